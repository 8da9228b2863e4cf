// Starts the page; when it cannot start, shows the plain page in index.html.
const trouble = document.getElementById("trouble");

document.getElementById("trouble-back").addEventListener("click", (event) => {
  event.preventDefault();
  if (location.hash.startsWith("#/x/") || location.hash.startsWith("#/r/")) location.hash = "#/";
  location.reload();
});

try {
  const { default: init } = await import("./pkg/cellwright.js");
  await init();
} catch (error) {
  if (trouble.hidden) {
    document.getElementById("trouble-why").textContent =
      "Cellwright could not start here. It needs a current browser with WebAssembly, and it may have been cut off while loading. " +
      "Nothing that was saved is lost.";
    document.getElementById("app").hidden = true;
    trouble.hidden = false;
  }
  console.warn(String(error));
}
