import js from '@eslint/js';
import prettier from 'eslint-config-prettier';
import tseslint from 'typescript-eslint';

/** What the core may not touch: it runs unchanged in Node, in workers and in the browser. */
const shellOnly = [
  { group: ['node:*', 'fs', 'path', 'os'], message: 'src is the pure core: no Node here.' },
  { group: ['express', 'sharp', 'better-sqlite3', 'kysely'], message: 'src is the pure core.' },
  { group: ['**/server/**', '**/web/**'], message: 'src imports no shell.' },
];

export default tseslint.config(
  { ignores: ['node_modules/', 'dist/', 'coverage/', 'src/marks/network/training/'] },
  js.configs.recommended,
  tseslint.configs.recommendedTypeChecked,
  {
    languageOptions: {
      parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname },
    },
    rules: {
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      eqeqeq: 'error',
    },
  },
  {
    files: ['src/**/*.ts'],
    rules: { 'no-restricted-imports': ['error', { patterns: shellOnly }] },
  },
  {
    files: ['src/**/*.ts'],
    ignores: ['src/raster/**'],
    rules: {
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            ...shellOnly,
            { group: ['@techstark/opencv-js'], message: 'OpenCV stays inside src/raster.' },
          ],
        },
      ],
    },
  },
  { files: ['**/*.js', '**/*.mjs'], extends: [tseslint.configs.disableTypeChecked] },
  prettier,
);
