import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

export default defineConfig({
  plugins: [svelte()],
  build: {
    outDir: "../src/rehaul/web/static/app",
    emptyOutDir: true,
    assetsInlineLimit: 0, // the page's policy forbids data: fonts and scripts
    modulePreload: { polyfill: false }, // the polyfill is an inline script
    chunkSizeWarningLimit: 900,
  },
});
