// The record page: the scene bar and the question that confirms the vehicle. What the badge said is sent where a search led here.
import { confirmBar } from "./confirm.js";
import { groups } from "./groups.js";
import { confirmedOutcome } from "./outcome.js";
import { sceneBar } from "./scene.js";

sceneBar(document.querySelector("[data-scene]"));
groups([...document.querySelectorAll("details.group")]);
confirmedOutcome(document.querySelector("[data-confirm]"));
confirmBar(document.querySelector("[data-confirm]"));
