"""Edit distance between two words.

Optimal string alignment: insertion, deletion, substitution and the swap of two neighbours
cost one each, and no part of a word is edited twice.
"""


def osa(a: str, b: str, limit: int) -> int:
    """Optimal string alignment distance, or limit + 1 as soon as it must be larger."""
    if a == b:
        return 0
    if abs(len(a) - len(b)) > limit:
        return limit + 1
    a, b = _without_shared_ends(a, b)
    if not a or not b:
        return min(len(a) + len(b), limit + 1)
    before: list[int] = []
    last = list(range(len(b) + 1))
    for i in range(1, len(a) + 1):
        row = [i] * (len(b) + 1)
        best = i
        for j in range(1, len(b) + 1):
            cost = last[j - 1] if a[i - 1] == b[j - 1] else 1 + min(last[j - 1], last[j], row[j - 1])
            if i > 1 and j > 1 and a[i - 1] == b[j - 2] and a[i - 2] == b[j - 1]:
                cost = min(cost, before[j - 2] + 1)
            row[j] = cost
            best = min(best, cost)
        if best > limit:
            return limit + 1
        before, last = last, row
    return min(last[len(b)], limit + 1)


def _without_shared_ends(a: str, b: str) -> tuple[str, str]:
    """What is left once the letters both begin and end with are taken off; the distance stays the same."""
    shortest = min(len(a), len(b))
    start = 0
    while start < shortest and a[start] == b[start]:
        start += 1
    end = 0
    while end < shortest - start and a[-1 - end] == b[-1 - end]:
        end += 1
    return a[start : len(a) - end], b[start : len(b) - end]
