// The steps on a page of their own: the scene is answered without a button, and the page printed.
const form = document.getElementById("line");
document.body.classList.add("kept");
form.addEventListener("change", () => form.requestSubmit());
const print = document.querySelector("[data-print]");
print.hidden = false;
print.addEventListener("click", () => window.print());
