import "@fontsource/libertinus-serif/latin-400.css";
import "@fontsource/libertinus-serif/latin-400-italic.css";
import "@fontsource/source-sans-3/latin-400.css";
import "@fontsource/source-sans-3/latin-600.css";
import "./style/tokens.css";
import "./style/sheet.css";
import { mount } from "svelte";
import { language, start } from "./words/say";

const FETCHED_BY_NOW_MS = 4000;

void open();

/** No await at the top: what the app imports of this file would wait for it, and it for the app. */
async function open(): Promise<void> {
  await start(); // before the app: its modules say things as they are read
  document.documentElement.lang = language();
  const { default: App } = await import("./App.svelte");
  mount(App, { target: document.getElementById("app")! });

  // Over TLS, and on this very machine, a browser can keep the pages for reloading while offline.
  if (isSecureContext && "serviceWorker" in navigator)
    setTimeout(() => void keepPages().catch(() => {}), FETCHED_BY_NOW_MS);
}

async function keepPages(): Promise<void> {
  await navigator.serviceWorker.register("/keep.js");
  await navigator.serviceWorker.ready;
  const store = await caches.open("rehaul-pages");
  const parts = performance.getEntriesByType("resource").map((one) => new URL(one.name));
  const assets = parts.filter((url) => url.origin === location.origin && url.pathname.startsWith("/assets/"));
  await store.addAll([...new Set(assets.map((url) => url.pathname))]);
  document.documentElement.dataset.kept = "yes";
}
