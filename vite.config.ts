import preact from '@preact/preset-vite';
import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import { licencesOf } from './server/launch/licences.mjs';
import { splitOpenCv } from './server/launch/split-open-cv.mjs';
import { VISION_CACHE } from './web/keep/vision-cache.ts';

const bundled = new Set<string>();

/** Notes what is bundled, for the worker and then for the page, which gets the licences of both. */
function noteModules(last: boolean): Plugin {
  return {
    name: 'licences',
    apply: 'build',
    async generateBundle() {
      for (const id of this.getModuleIds()) bundled.add(id);
      if (!last) return;
      this.emitFile({ type: 'asset', fileName: 'licences.md', source: await licencesOf(bundled) });
    },
  };
}

/** OpenCV's WebAssembly is compiled while it arrives, and what is compiled the browser keeps. */
function streamedOpenCv(): Plugin {
  return {
    name: 'streamed-opencv',
    apply: 'build',
    load: {
      filter: { id: /opencv-js[\\/]dist[\\/]opencv\.js$/ },
      async handler() {
        const { glue, wasm } = await splitOpenCv('{ locateFile: () => wasmUrl }');
        const file = this.emitFile({ type: 'asset', name: 'opencv.wasm', source: wasm });
        return `const wasmUrl = import.meta.ROLLUP_FILE_URL_${file};
          const module = { exports: {} };
          (function (module, exports) {${glue}\n}).call(globalThis, module, module.exports);
          export default module.exports;`;
      },
    },
  };
}

/** They are half of the code's size, and the licences among them are in a file of their own. */
const WITHOUT_COMMENTS = { comments: false } as const;

export default defineConfig({
  root: 'web',
  base: './',
  // The demo's photo comes from test-images.
  server: { fs: { allow: [fileURLToPath(new URL('.', import.meta.url))] } },
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    target: 'es2022',
    rolldownOptions: {
      // The core is pure: importing it does nothing, so what is not called is left out.
      treeshake: { moduleSideEffects: (id) => !id.includes('/src/') },
      output: WITHOUT_COMMENTS,
    },
  },
  worker: {
    format: 'es',
    plugins: () => [streamedOpenCv(), noteModules(false)],
    rolldownOptions: {
      output: {
        entryFileNames: 'vision/[name]-[hash].js',
        chunkFileNames: 'vision/[name]-[hash].js',
        assetFileNames: 'vision/[name]-[hash][extname]',
        ...WITHOUT_COMMENTS,
      },
    },
  },
  plugins: [
    preact(),
    noteModules(true),
    VitePWA({
      registerType: 'autoUpdate',
      injectRegister: false,
      manifest: {
        name: 'endwise',
        short_name: 'endwise',
        description:
          'Reads target photos and tells an archer what the bare shafts say about the bow',
        start_url: './',
        scope: './',
        display: 'standalone',
        background_color: '#f5f3ec',
        theme_color: '#1d4d3c',
        icons: [
          { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: 'icon-512.png', sizes: '512x512', type: 'image/png' },
          {
            src: 'icon-maskable-512.png',
            sizes: '512x512',
            type: 'image/png',
            purpose: 'maskable',
          },
        ],
      },
      workbox: {
        clientsClaim: true,
        skipWaiting: true,
        globPatterns: ['**/*.{html,js,css,woff2,svg,png}'],
        globIgnores: ['vision/**', '**/*.wasm', '**/*.onnx', '**/*.jpg'],
        navigateFallback: 'index.html',
        // The server's own addresses, also where a proxy has it under a path of its own.
        navigateFallbackDenylist: [/\/api\//, /\/pair$/],
        runtimeCaching: [
          {
            // The function is copied into the service worker as text and sees nothing around it.
            urlPattern: ({ url }) => /\/vision\/|\.wasm$|\.onnx$/.test(url.pathname),
            // Everything that only reading a photo needs: fetched when first wanted, then kept.
            handler: 'CacheFirst',
            options: { cacheName: VISION_CACHE, expiration: { maxEntries: 24 } },
          },
          {
            urlPattern: ({ url }) =>
              url.pathname.endsWith('.jpg') && url.pathname.includes('/assets/'),
            handler: 'CacheFirst',
            options: { cacheName: 'demo' },
          },
        ],
      },
    }),
  ],
});
