// Starts the page; when it cannot start or has stopped, shows the plain page in index.html. Then keeps it for use
// without a network, and offers a new version when there is one.
const byId = (id) => document.getElementById(id);

function showTrouble(why) {
  if (!byId("trouble").hidden) return;
  if (why) byId("trouble-why").textContent = why;
  byId("app").hidden = true;
  byId("trouble").hidden = false;
  byId("trouble-back").focus();
}

byId("trouble-back").addEventListener("click", (event) => {
  event.preventDefault();
  if (location.hash.startsWith("#/x/") || location.hash.startsWith("#/r/")) location.hash = "#/";
  location.reload();
});

// A panic shows the plain page by itself; what WebAssembly stops without one (no memory left, a damaged module) comes
// here.
const stopped = (error) => {
  if (error instanceof WebAssembly.RuntimeError || error instanceof WebAssembly.CompileError) showTrouble();
};
addEventListener("error", (event) => stopped(event.error));
addEventListener("unhandledrejection", (event) => stopped(event.reason));

// The single-file edition puts its own way of loading in place of this one.
// begin load
// Two halves: what reading and writing need comes first; the whole page takes its place when another room is opened.
const OF_THE_WHOLE = /^#\/(transcribe|proofread|signs|record|set|r\/|x\/)/;

async function load() {
  if (OF_THE_WHOLE.test(location.hash)) return (await import("./pkg/whole.js")).default();
  // The module is fetched and compiled while its script comes. Where the host gives it no media type of its own, the script takes
  // it as plain bytes.
  const url = new URL("./pkg/cellwright_bg.wasm", import.meta.url);
  const module = WebAssembly.compileStreaming(fetch(url)).catch(() => fetch(url));
  const half = await import("./pkg/cellwright.js");
  let tries = 0;
  let asked = false;
  addEventListener("cellwright-whole", async () => {
    if (asked) return;
    asked = true;
    try {
      // All of it first; only then does the half go. A browser may remember that an address failed: so a new one each time.
      const again = tries++ ? `?${tries}` : "";
      const answer = await fetch(new URL(`./pkg/whole_bg.wasm${again}`, import.meta.url));
      if (!answer.ok) throw new Error(`whole_bg.wasm: ${answer.status}`);
      const [module, whole] = await Promise.all([answer.arrayBuffer().then((bytes) => WebAssembly.compile(bytes)), import(`./pkg/whole.js${again}`)]);
      await ready;
      half.stop();
      await whole.default({ module_or_path: module });
    } catch (error) {
      console.warn(String(error));
      asked = false;
      dispatchEvent(new Event("cellwright-no-whole"));
    }
  });
  // After the listener: a first room may ask for the whole page at once.
  const ready = half.default({ module_or_path: module });
  await ready;
}
// end load

let begun = false;
try {
  await load();
  begun = true;
} catch (error) {
  showTrouble(
    "Cellwright could not start here. It needs a current browser with WebAssembly, and it may have been cut off while loading. " +
    "Nothing that was saved is lost.",
  );
  console.warn(String(error));
}

// Files opened from a disk are there without a network anyway.
const workers = location.protocol.startsWith("http") ? navigator.serviceWorker : undefined;
if (begun && workers) keepForOffline().catch((error) => console.warn(String(error)));

async function keepForOffline() {
  const here = await workers.register("./sw.js", { updateViaCache: "none" });
  workers.ready.then(() => document.documentElement.setAttribute("data-offline", "ready"));
  if (here.waiting) offer(here);
  here.addEventListener("updatefound", () => {
    const coming = here.installing;
    coming?.addEventListener("statechange", () => {
      // Without an active one before it, it is the first and there is nothing to offer.
      if (coming.state === "installed" && here.active) offer(here);
    });
  });
  setInterval(() => here.update().catch(() => {}), 3_600_000);
}

/** Says that a new version is there; nothing changes until it is asked for. */
function offer(here) {
  byId("news").hidden = false;
  byId("news-later").onclick = () => { byId("news").hidden = true; };
  byId("news-now").onclick = () => {
    const coming = here.waiting;
    if (!coming) return location.reload();
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => {
      if (data === "yes") return;
      byId("news-say").textContent =
        "Cellwright is open in another tab too. Close the others and choose again, or it comes when all are closed.";
    };
    workers.addEventListener("controllerchange", () => location.reload(), { once: true });
    coming.postMessage("take over", [port2]);
  };
}
