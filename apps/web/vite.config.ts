import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

/** The server answers here while the client is developed; in an installed program both share one origin. */
const server = process.env.UNDERBOUGH_SERVER ?? 'http://127.0.0.1:4317'

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react()],
  server: { proxy: { '/api': { target: server, changeOrigin: false } }, strictPort: true },
  worker: { format: 'es' },
  build: { target: 'es2022', outDir: 'dist', emptyOutDir: true, chunkSizeWarningLimit: 1600 },
})
