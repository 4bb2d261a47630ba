import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react()],
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    rolldownOptions: { output: { codeSplitting: { groups: [{ name: 'three', test: /node_modules\/three/ }] } } },
  },
  server: {
    proxy: {
      '/api': 'http://127.0.0.1:8790',
      '/g/': 'http://127.0.0.1:8790',
      '/feed': { target: 'http://127.0.0.1:8790', ws: true },
      '/sync': { target: 'http://127.0.0.1:8790', ws: true },
    },
  },
});
