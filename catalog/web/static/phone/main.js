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
route("/report/:code", page(() => import("./report.js")), { name: "report" });
route("/sent", page(() => import("./sent.js")), { name: "report" });
route("/briefs", page(() => import("./briefs.js")), { name: "report" });
// What waits is sent, and kept briefs are asked after, once a page stands.
addEventListener("phone:page", () => setTimeout(() => import("./standing_by.js"), 1000), { once: true });

start(document.getElementById("page")).then(() => {
  // The page is there and can be used; the engine and the edition follow.
  const later = globalThis.requestIdleCallback ?? ((work) => setTimeout(work, 200));
  later(() => import("./edition.js").then(({ begin }) => begin()));
});
