"""axe-core over a page as it stands: every rule, or only those that another light or width may break.

Of texts painted alike (colour, size, weight, and every ground below them up to the root) the first is weighed for
contrast: weighing each of a thousand took most of the run's time. Every other rule looks at every element.
"""

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

# What hangs on what is in view: names of what only a phone shows, what scrolls or is covered only there.
_OF_A_LAYOUT = (
    "aria-hidden-focus", "button-name", "input-button-name", "input-image-alt", "label", "link-name",
    "nested-interactive", "scrollable-region-focusable", "select-name", "summary-name", "svg-img-alt",
)  # fmt: skip

_RUN = """async ([rules, serious]) => {
  const ground = new Map();
  const below = (node) => {
    if (!node) return "";
    if (!ground.has(node)) {
      const { backgroundColor, backgroundImage, opacity, position, filter, mixBlendMode } = getComputedStyle(node);
      const own = [backgroundColor, backgroundImage, opacity, position, filter, mixBlendMode].join("/");
      const up = below(node.parentElement);
      ground.set(node, up.endsWith(own) ? up : `${up}|${own}`);
    }
    return ground.get(node);
  };
  const painted = new Map();
  for (const node of document.body.querySelectorAll("*")) {
    const says = [...node.childNodes].some((child) => child.nodeType === 3 && child.data.trim());
    if (!says && !node.matches("input, textarea, select")) continue;
    if (!node.checkVisibility({ visibilityProperty: true })) continue;
    const { color, fontSize, fontWeight, textShadow, webkitTextStroke } = getComputedStyle(node);
    const key = [color, fontSize, fontWeight, textShadow, webkitTextStroke, below(node)].join(";");
    if (!painted.has(key)) painted.set(key, node);
  }
  const every = { resultTypes: ["violations"] };
  const off = { rules: { "color-contrast": { enabled: false } } };
  const found = [
    await axe.run(document, { ...every, ...(rules.length ? { runOnly: rules } : off) }),
    ...(painted.size
      ? [await axe.run({ include: [...painted.values()] }, { ...every, runOnly: ["color-contrast"] })]
      : []),
  ];
  return found
    .flatMap(({ violations }) => violations)
    .filter(({ impact }) => !serious || impact === "serious" || impact === "critical")
    .map(({ id, nodes }) => [id, ...nodes.slice(0, 3).map(({ html }) => html)]);
}"""


def faults(page: Page, *, again: bool = False, serious: bool = True) -> list[list[str]]:
    """The rules that the page breaks, each with up to three of the elements that break it.

    again: only the rules that another light or width may break, on a page that was looked at whole before.
    serious: leaves out what axe calls moderate or minor.
    """
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    found: list[list[str]] = page.evaluate(_RUN, [list(_OF_A_LAYOUT) if again else [], serious])
    return found
