// Groups are folded on a phone, where a long page hides what is further down; a desk and a printer
// have room for all of them.
export function groups(all) {
  const openAll = () => {
    for (const one of all) one.open = true;
  };
  if (matchMedia("(min-width: 1000px)").matches) openAll();
  addEventListener("beforeprint", openAll);
}
