// Starts the page; when it cannot start or has stopped, shows the plain page in index.html. Then keeps it for use
// without a network, and offers a new version when there is one.
const byId = (id) => document.getElementById(id);

// This script may be here before all of index.html and its style are: what it fetches need not wait for them, what it shows
// must, since rooms measure what they show.
const standing = new Promise((go) => {
  const look = () => {
    const style = document.querySelector("link[rel=stylesheet]");
    const parsed = document.readyState !== "loading" && (!style || style.sheet);
    if (parsed || document.readyState === "complete") go();
  };
  document.addEventListener("readystatechange", look);
  document.addEventListener("load", look, true);
  look();
});

function showTrouble(why) {
  if (!byId("trouble")?.hidden) return;
  if (why) byId("trouble-why").textContent = why;
  byId("app").hidden = true;
  byId("trouble").hidden = false;
  byId("trouble-back").focus();
}

addEventListener("click", (event) => {
  if (event.target.id !== "trouble-back") return;
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
  if (OF_THE_WHOLE.test(location.hash)) {
    const whole = await import("./pkg/whole.js");
    await standing;
    return whole.default();
  }
  // The module is fetched and compiled while its script comes. Where the host gives it no media type of its own, the script takes
  // it as plain bytes.
  const url = new URL("./pkg/cellwright_bg.wasm", import.meta.url);
  const module = WebAssembly.compileStreaming(fetch(url)).catch(() => fetch(url));
  const half = await import("./pkg/cellwright.js");
  await standing;
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

// What is done away with takes no focus along: what comes nearest and is still there has it then. A key on the writing
// surface is none of these events, and waits for nothing.
for (const kind of ["click", "submit", "change"]) {
  addEventListener(kind, () => {
    const was = document.activeElement;
    const around = [];
    for (let at = was?.parentElement; at && at !== document.body; at = at.parentElement) around.push(at);
    if (!around.length) return;
    for (const later of [0, 120, 400]) setTimeout(() => {
      const gone = !was.isConnected || was.disabled || !was.checkVisibility?.();
      if (document.activeElement !== document.body || !gone) return;
      const still = around.find((at) => at.isConnected && (at.matches("main") || at.checkVisibility?.()) && at.matches("main, section, form, aside, .controls, [role=group]"));
      const beside = still?.matches(".controls") && still.querySelector("button:not([disabled])");
      const to = beside || still;
      if (!to) return;
      if (to.tabIndex < 0) to.tabIndex = -1;
      to.focus({ preventScroll: true });
    }, later);
  }, true);
}

let begun = false;
try {
  await load();
  begun = true;
} catch (error) {
  await standing;
  showTrouble(
    "Cellwright could not start here. It needs a current browser with WebAssembly, and it may have been cut off while loading. " +
    "Nothing that was saved is lost.",
  );
  console.warn(String(error));
}

// Files opened from a disk are there without a network anyway.
const workers = location.protocol.startsWith("http") ? navigator.serviceWorker : undefined;
// The first frame goes before: what is fetched for later would take its time.
const idle = window.requestIdleCallback ?? ((then) => then());
const keep = () => keepForOffline().catch((error) => console.warn(String(error)));
if (begun && workers) setTimeout(() => idle(keep, { timeout: 3000 }), 300);

async function keepForOffline() {
  const here = await workers.register("./sw.js", { updateViaCache: "none" });
  workers.ready.then(() => document.documentElement.setAttribute("data-offline", "ready"));
  const watch = (coming) => coming?.addEventListener("statechange", () => {
    // Without an active one before it, it is the first and there is nothing to offer.
    if (coming.state === "installed" && here.active) offer(here);
  });
  if (here.waiting) offer(here);
  // The browser may have begun to fetch it before this page could hear of it.
  watch(here.installing);
  here.addEventListener("updatefound", () => watch(here.installing));
  setInterval(() => here.update().catch(() => {}), 3_600_000);
}

const NEWS = "A new version of Cellwright is ready. Your work stays as it is until you choose.";
const OTHER_TAB = "Cellwright is open in another tab too. Close the others and choose again, or it comes when all are closed.";

/** A worker's version; none when it does not say. */
function versionOf(worker) {
  return new Promise((tell) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => tell(data);
    worker?.postMessage("which version", [port2]);
    setTimeout(tell, 2000);
  });
}

/** Says that a new version is there; nothing changes until it is asked for. */
async function offer(here) {
  const news = byId("news");
  const [coming, now] = await Promise.all([versionOf(here.waiting), versionOf(here.active)]);
  // The host has gone back to what is here.
  news.hidden = coming !== undefined && coming === now;
  document.documentElement.toggleAttribute("data-news", !news.hidden);
  if (news.hidden) return;
  // A word that is put in is told; one that was there before it could be seen is not.
  requestAnimationFrame(() => { byId("news-say").textContent = NEWS; });
  let before;
  news.addEventListener("focusin", ({ relatedTarget }) => {
    if (relatedTarget && !news.contains(relatedTarget)) before = relatedTarget;
  });
  byId("news-later").onclick = () => {
    news.hidden = true;
    document.documentElement.removeAttribute("data-news");
    byId("news-say").textContent = "";
    (before?.isConnected ? before : byId("room"))?.focus();
  };
  byId("news-now").onclick = () => {
    const coming = here.waiting;
    if (!coming) return location.reload();
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => {
      if (data !== "yes") byId("news-say").textContent = OTHER_TAB;
    };
    workers.addEventListener("controllerchange", () => location.reload(), { once: true });
    coming.postMessage("take over", [port2]);
  };
}
