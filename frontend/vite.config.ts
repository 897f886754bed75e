/// <reference types="vitest/config" />
import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig, type Plugin } from "vite";

/** Has the page fetch the app beside main.ts, which reads it only once it has the words. */
function early(): Plugin {
  return {
    name: "early",
    transformIndexHtml: {
      order: "post",
      handler(_html, { bundle }) {
        const app = Object.values(bundle ?? {}).find(
          (one) => one.type === "chunk" && one.facadeModuleId?.endsWith("/src/App.svelte"),
        );
        const link = { tag: "link", injectTo: "head" as const };
        return app?.type !== "chunk"
          ? []
          : [
              { ...link, attrs: { rel: "modulepreload", crossorigin: true, href: `/${app.fileName}` } },
              ...[...(app.viteMetadata?.importedCss ?? [])].map((href) => ({
                ...link,
                attrs: { rel: "stylesheet", crossorigin: true, href: `/${href}` },
              })),
            ];
      },
    },
  };
}

export default defineConfig({
  plugins: [svelte(), early()],
  // files of tests share what they import: a test that changes a module puts it back
  test: { setupFiles: ["tests/words.ts"], pool: "threads", isolate: false, css: { include: /style/ } },
  build: {
    outDir: "../src/rehaul/web/static/app",
    emptyOutDir: true,
    assetsInlineLimit: 0, // the page's policy forbids data: fonts and scripts
    modulePreload: { polyfill: false }, // the polyfill is an inline script
    chunkSizeWarningLimit: 900,
  },
});
