import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig, type Plugin } from "vite";
import { VitePWA } from "vite-plugin-pwa";

/** Fetches the texts of the page while its code is fetched: nothing is shown before they are there. */
const textsBesideCode: Plugin = {
  name: "texts-beside-code",
  transformIndexHtml: (_, { bundle }) =>
    Object.keys(bundle ?? {})
      .filter((name) => /\/en-[^/]*\.txt$/.test(name))
      .map((name) => ({ tag: "link", injectTo: "head", attrs: { rel: "preload", as: "fetch", crossorigin: "", href: `./${name}` } })),
};

export default defineConfig({
  base: "./",
  plugins: [
    svelte(),
    textsBesideCode,
    VitePWA({
      registerType: "prompt",
      injectRegister: null,
      workbox: {
        navigateFallbackDenylist: [/^\/folder/],
        globPatterns: ["**/*.{js,css,html,wasm,svg,webmanifest,woff2,toml,txt}"],
        maximumFileSizeToCacheInBytes: 6_000_000,
      },
      manifest: {
        name: "Dewpath",
        short_name: "Dewpath",
        description: "Gets the moisture of a shower out of a house",
        start_url: ".",
        display: "standalone",
        background_color: "#f7f5ef",
        theme_color: "#21464b",
        icons: [{ src: "icon.svg", sizes: "any", type: "image/svg+xml", purpose: "any" }],
      },
    }),
  ],
  worker: { format: "es" },
  build: {
    target: "es2022",
    assetsInlineLimit: 0,
    manifest: true,
    // What is needed at once comes in one piece: every further request costs a slow phone some tenth of a second.
    rolldownOptions: { output: { codeSplitting: { groups: [{ name: "page", test: /src\/main\.ts$/ }] } } },
  },
});
