// The responder's app: its pages, registered in one place. A page's script is loaded when it is first opened.
import { route, start } from "./router.js";
import "./shell.js";

// module: address of a module with show(container, params) -> leave().
const page = (load) => async (container, params) => (await load()).show(container, params);

const search = document.getElementById("search");
route("/", page(() => import("./search.js")), { name: "search", own: search });
route("/taps", page(() => import("./search.js")), { name: "search", own: search });
route("/taps/:panel", page(() => import("./search.js")), { name: "search", own: search });
route("/menu", page(() => import("./menu.js")), { name: "menu" });
for (const path of ["/record/:code", "/record/:code/:tab", "/any", "/any/:tab"]) {
  route(path, page(() => import("./record.js")), { name: "record" });
}
// Its report and briefs hang in here: one line each.

start(document.getElementById("page"));
