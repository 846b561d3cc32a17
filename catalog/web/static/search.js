// The search page: results as one types, meanings hung below the line, keys.
import { chips } from "./chips.js";
import { hang } from "./hang.js";
import { keys } from "./keys.js";
import { live } from "./live.js";
import { outcomes } from "./outcome.js";
import { settling } from "./settling.js";

const form = document.getElementById("line");
document.body.classList.add("kept");
const refresh = live(form, () => hang(form));
keys(form, refresh);
chips(form, refresh.amended);
settling(form);
outcomes();
