import init from "./pkg/counter.js";
await init();
