"""How well the words of a page can be read: the ratio of each text to what it stands on."""

from playwright.sync_api import Page

# Of every text that is shown: what it stands on, and their ratio by WCAG 2.2's formula (relative luminance of sRGB).
_CONTRASTS = """() => {
  const parts = (text) => (text.match(/[\\d.]+/g) ?? []).map(Number);
  const light = (text) => {
    const [r, g, b] = parts(text).slice(0, 3).map((each) => each / 255)
      .map((each) => (each <= 0.04045 ? each / 12.92 : ((each + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ground = (node) => {
    for (let each = node; each; each = each.parentElement) {
      const colour = getComputedStyle(each).backgroundColor;
      if (parts(colour)[3] !== 0) return colour;
    }
    return "rgb(255, 255, 255)";
  };
  const made = [];
  for (const node of document.querySelectorAll("body *:not(svg *)")) {
    const words = [...node.childNodes].filter((each) => each.nodeType === 3 && each.textContent.trim());
    if (!words.length || !node.checkVisibility() || node.closest(".vh, template, noscript")) continue;
    const [a, b] = [light(getComputedStyle(node).color), light(ground(node))].sort((x, y) => y - x);
    const danger = Boolean(node.closest(".signal"));
    made.push({ words: words[0].textContent.trim(), ratio: (a + 0.05) / (b + 0.05), danger });
  }
  return made;
}"""


def weak_words(page: Page) -> list[tuple[str, float]]:
    """Texts with less contrast than 4.5:1 (WCAG 2.2, SC 1.4.3), or 7:1 for what warns (SC 1.4.6), with their ratio."""
    told = page.evaluate(_CONTRASTS)
    assert len(told) > 10
    return [(each["words"], round(each["ratio"], 2)) for each in told if each["ratio"] < (7 if each["danger"] else 4.5)]
