import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";
import { VitePWA } from "vite-plugin-pwa";

export default defineConfig({
  base: "./",
  plugins: [
    svelte(),
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
  build: { target: "es2022", assetsInlineLimit: 0, manifest: true },
});
