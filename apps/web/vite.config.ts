import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'
import { VitePWA } from 'vite-plugin-pwa'
import { dayPalette } from '../../packages/pictures/src/palette/colours.ts'

/** The server answers here while the client is developed; in an installed program both share one origin. */
const server = process.env.UNDERBOUGH_SERVER ?? 'http://127.0.0.1:4317'

export default defineConfig({
  root: import.meta.dirname,
  plugins: [
    react(),
    VitePWA({
      strategies: 'injectManifest',
      srcDir: 'src',
      filename: 'sw.ts',
      injectRegister: null,
      includeManifestIcons: false,
      injectManifest: {
        globPatterns: ['**/*.{html,js,mjs,css,woff2,svg,png}'],
        maximumFileSizeToCacheInBytes: 8 * 1024 * 1024,
      },
      manifest: {
        id: '/',
        name: 'Underbough',
        short_name: 'Underbough',
        description: 'Who stands under which tree, and when must we look again.',
        lang: 'en',
        start_url: '/',
        scope: '/',
        display: 'standalone',
        background_color: dayPalette.paper,
        theme_color: dayPalette.paper,
        icons: [
          { src: '/icons/192.png', sizes: '192x192', type: 'image/png' },
          { src: '/icons/512.png', sizes: '512x512', type: 'image/png' },
          { src: '/icons/maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
    }),
  ],
  server: { proxy: { '/api': { target: server, changeOrigin: false } }, strictPort: true },
  worker: { format: 'es' },
  build: { target: 'es2022', outDir: 'dist', emptyOutDir: true, chunkSizeWarningLimit: 1600 },
})
