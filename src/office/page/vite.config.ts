import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** The supervisor's page is built apart: nothing of it is on a bench. The office serves it under /office/. */
export default defineConfig({
  root: at('.'),
  base: '/office/',
  publicDir: false,
  build: {
    outDir: at('../../../.cache/office-page'),
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});
