#!/usr/bin/env node
import { URL } from 'node:url';
import { importBundled } from '../launch/import-bundled.mjs';

await importBundled(new URL('./endwise.ts', import.meta.url));
