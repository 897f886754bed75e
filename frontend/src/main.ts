import "@fontsource/libertinus-serif/latin-400.css";
import "@fontsource/libertinus-serif/latin-400-italic.css";
import "@fontsource/libertinus-serif/latin-700.css";
import "@fontsource/dejavu-mono/latin-400.css";
import "./style/sheet.css";
import { mount } from "svelte";
import App from "./App.svelte";

mount(App, { target: document.getElementById("app")! });

// Only over TLS (or on this very machine) does a browser keep pages for reloading while offline.
if ("serviceWorker" in navigator && location.protocol === "https:") void navigator.serviceWorker.register("/keep.js");
