import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));
const { version } = JSON.parse(readFileSync(at('../package.json'), 'utf8')) as { version: string };

export default defineConfig({
  root: at('bench'),
  publicDir: at('../assets/public'),
  define: { __APP_VERSION__: JSON.stringify(version) },
  build: {
    outDir: at('../dist'),
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  plugins: [
    VitePWA({
      // A reload under the mechanic's hands would be worse than an old version: an update waits until no job is open.
      registerType: 'prompt',
      injectRegister: null,
      manifest: {
        name: 'Holdfast',
        short_name: 'Holdfast',
        description: 'A hands-free checklist runner for the workshop bench',
        display: 'fullscreen',
        background_color: '#f3efe6',
        theme_color: '#f3efe6',
        icons: [
          { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: 'icon-512.png', sizes: '512x512', type: 'image/png' },
          { src: 'icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' },
        ],
      },
      workbox: {
        globPatterns: ['**/*.{js,css,html,svg,png,woff2,webmanifest,json,bin}'],
        cleanupOutdatedCaches: true,
        // The listening model is 5.9 MB; without it a bench would be deaf without a network.
        maximumFileSizeToCacheInBytes: 8_000_000,
        // What an office serves beside the app is not the app's to answer.
        navigateFallbackDenylist: [/^\/office(\/|$)/, /^\/api\//],
      },
    }),
  ],
});
