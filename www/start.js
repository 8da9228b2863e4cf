// Starts the page, or shows the plain page; keeps it for use without a network and offers a new version.
const byId = (id) => document.getElementById(id);

// This script may be here before all of index.html and its style: what it shows waits for them, since rooms measure it.
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

function showTrouble(why, what) {
  if (!byId("trouble")?.hidden) return;
  if (why) byId("trouble-why").textContent = why;
  if (what) document.querySelector("#trouble h1").textContent = what;
  byId("app").hidden = true;
  byId("trouble").hidden = false;
  byId("trouble-back").focus();
}

addEventListener("click", (event) => {
  if (event.target.id !== "trouble-back" || event.target.target) return;
  event.preventDefault();
  if (location.hash.startsWith("#/x/") || location.hash.startsWith("#/r/")) location.hash = "#/";
  location.reload();
});

// A panic shows the plain page by itself; no memory left and a damaged module come here.
const stopped = (error) => {
  if (error instanceof WebAssembly.RuntimeError || error instanceof WebAssembly.CompileError) showTrouble();
};
addEventListener("error", (event) => stopped(event.error));
addEventListener("unhandledrejection", (event) => stopped(event.reason));

// Within another page it could be made to look like something else. A site that means that says so in index.html: <meta name="cellwright-framed" content="yes">.
async function alone() {
  if (self === top) return true;
  await standing;
  if (document.querySelector("meta[name=cellwright-framed]")) return true;
  const back = byId("trouble-back");
  Object.assign(back, { href: location.href, target: "_blank", textContent: "Open Cellwright on its own" });
  showTrouble("Another page shows Cellwright inside itself. What you write is safe only where you see its own address.", "Cellwright is framed");
  return false;
}

// What is dropped where no place takes it would be opened in the place of this page.
for (const kind of ["dragover", "drop"]) {
  addEventListener(kind, (event) => {
    const { types } = event.dataTransfer ?? { types: [] };
    const field = event.target.closest?.("input, textarea");
    const taken = types.includes("Files") ? field?.type === "file" : !types.includes("text/uri-list") || field;
    if (event.defaultPrevented || taken) return;
    event.preventDefault();
    event.dataTransfer.dropEffect = "none";
  });
}

// The single-file edition puts its own way of loading in place of this one.
// begin load
// The first screen and Write come first; the whole page takes their place when more is asked for.
const OF_THE_WHOLE = /^#\/(session|read|transcribe|proofread|signs|record|set|course|practise|licences|r\/|x\/)/;

async function load() {
  if (OF_THE_WHOLE.test(location.hash)) {
    const whole = await import("./pkg/whole.js");
    await standing;
    await whole.default();
    return whole.begin();
  }
  // The module is compiled while its script comes. Where the host gives it no media type of its own, the script takes
  // it as plain bytes.
  const url = new URL("./pkg/cellwright_bg.wasm", import.meta.url);
  const module = WebAssembly.compileStreaming(fetch(url)).catch(() => fetch(url));
  const first = await import("./pkg/cellwright.js");
  await standing;
  let tries = 0;
  let coming;
  const bring = async () => {
    // The first download goes only then. A browser may remember that an address failed: so a new one each time.
    const again = tries++ ? `?${tries}` : "";
    const answer = await fetch(new URL(`./pkg/whole_bg.wasm${again}`, import.meta.url));
    if (!answer.ok) throw new Error(`whole_bg.wasm: ${answer.status}`);
    const [module, whole] = await Promise.all([answer.arrayBuffer().then((bytes) => WebAssembly.compile(bytes)), import(`./pkg/whole.js${again}`)]);
    await whole.default({ module_or_path: module });
    whole.begin(await first.stop());
  };
  await first.default({ module_or_path: module });
  first.begin(undefined, () => coming ??= bring().catch((error) => {
    console.warn(String(error));
    coming = undefined;
    throw error;
  }));
}
// end load

// What is done away with takes no focus along: what is nearest and still there has it then.
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
      // Nor has a button that would undo what was done just now.
      const beside = still?.matches(".controls") && still.querySelector("button:not([disabled], [data-undoes])");
      const to = beside || still;
      if (!to) return;
      if (to.tabIndex < 0) to.tabIndex = -1;
      to.focus({ preventScroll: true });
    }, later);
  }, true);
}

/** Asks for the page's files past the browser's cache, where a network that asks for a password first may have left a page of its own.
 * Gives whether they came. */
async function anew() {
  const files = ["cellwright.js", "cellwright_bg.wasm", "whole.js", "whole_bg.wasm"];
  const come = (file) => fetch(new URL(`./pkg/${file}`, import.meta.url), { cache: "reload" }).then(({ ok }) => ok, () => false);
  return (await Promise.all(files.map(come))).every(Boolean);
}

// The six keys stand above a touch keyboard; a browser's own bars, which are lower, are its own affair.
const seen = window.visualViewport;
seen?.addEventListener("resize", () => {
  const covered = seen.scale === 1 ? innerHeight - seen.height - seen.offsetTop : 0;
  document.documentElement.style.setProperty("--covered", covered > 100 ? `${Math.round(covered)}px` : "0px");
});

let begun = false;
try {
  if (await alone()) {
    await load();
    begun = true;
  }
} catch (error) {
  console.warn(String(error));
  // Once, by itself.
  const first = performance.getEntriesByType("navigation")[0]?.type !== "reload";
  const came = location.protocol.startsWith("http") && !(error instanceof WebAssembly.RuntimeError) && await anew();
  if (came && first) location.reload();
  else {
    await standing;
    showTrouble(
      "Cellwright could not start here. It needs a current browser with WebAssembly, and it may have been cut off while loading. " +
      "Nothing that was saved is lost.",
    );
  }
}

// Files opened from a disk are there without a network anyway.
const workers = location.protocol.startsWith("http") ? navigator.serviceWorker : undefined;
// The first frame goes before what is for later.
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
