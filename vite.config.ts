import react from '@vitejs/plugin-react';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const fromHere = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Where the program runs while the pages are worked on (`vite`); the built pages are served by the program itself. */
const PROGRAM = process.env['BAREPLATE_DEV_PROGRAM'] ?? 'http://127.0.0.1:4610';

export default defineConfig({
  root: fromHere('./client'),
  publicDir: fromHere('./client/public'),
  plugins: [react()],
  resolve: { alias: { '@domain': fromHere('./server/domain') } },
  build: {
    outDir: fromHere('./dist/client'),
    emptyOutDir: true,
    // The content security policy lets no inline script or font through.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: { proxy: { '/api': PROGRAM } },
});
