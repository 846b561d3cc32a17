// The record page: the scene bar and the question that confirms the vehicle. Nothing is sent or kept.
import { confirmBar } from "./confirm.js";
import { groups } from "./groups.js";
import { sceneBar } from "./scene.js";

sceneBar(document.querySelector("[data-scene]"));
groups([...document.querySelectorAll("details.group")]);
confirmBar(document.querySelector("[data-confirm]"));
