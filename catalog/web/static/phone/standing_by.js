// What goes on beside the page that is shown: sending what waits, asking after the briefs that are kept.
import * as briefs from "./brief_store.js";
import { interrupt } from "./brief_told.js";
import * as outbox from "./outbox.js";

const EVERY = 60000; // milliseconds between looks

const look = async () => {
  await briefs.askAll().catch(() => {});
  setTimeout(look, EVERY);
};

briefs.changes.addEventListener("told", ({ detail }) => interrupt(detail));
addEventListener("online", () => briefs.askAll().catch(() => {}));
outbox.begin();
look();
