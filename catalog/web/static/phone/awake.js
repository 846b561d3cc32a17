// The screen stays on while steps are open. A browser lets go of it when the page is out of sight; then it is asked
// for again. One that cannot is no fault.
export function awake() {
  if (!("wakeLock" in navigator)) return () => {};
  let lock = null;
  let wanted = true;
  const ask = async () => {
    if (!wanted || document.hidden || (lock && !lock.released)) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      if (!wanted) await lock.release();
    } catch {
      lock = null; // refused: battery saver, or no permission
    }
  };
  document.addEventListener("visibilitychange", ask);
  ask();
  return () => {
    wanted = false;
    document.removeEventListener("visibilitychange", ask);
    lock?.release().catch(() => {});
  };
}
