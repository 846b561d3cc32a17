"""Several names in one cell: with semicolons or line breaks between, quotes around what holds either."""

QUOTE = '"'


def names_text(names: list[str]) -> str:
    """["a", "b; c"] -> 'a; "b; c"'."""
    return "; ".join(_quoted(name) if ";" in name or name.startswith(QUOTE) else name for name in names)


def read_names(text: str) -> list[str]:
    """Inverse of `names_text`; a quote that is never closed is part of its name."""
    made: list[str] = []
    left = text
    while left.strip(" ;\n"):
        left = left.lstrip(" ;\n")
        name, left = _first(left)
        made.append(name)
    return made


def _first(text: str) -> tuple[str, str]:
    if text.startswith(QUOTE):
        at = 1
        while (end := text.find(QUOTE, at)) >= 0:
            if text[end + 1 : end + 2] != QUOTE:
                after = text[end + 1 :].lstrip(" ")
                if not after or after[0] in ";\n":
                    return text[1:end].replace(QUOTE * 2, QUOTE), after
                break
            at = end + 2
    ends = [found for found in (text.find(";"), text.find("\n")) if found >= 0]
    end = min(ends, default=len(text))
    return text[:end].strip(), text[end:]


def _quoted(name: str) -> str:
    return f"{QUOTE}{name.replace(QUOTE, QUOTE * 2)}{QUOTE}"
