import { URL } from 'node:url';
import { importBundled } from '../launch/import-bundled.mjs';

const { default: cleanPhoto } = await importBundled(new URL('./clean-photo.ts', import.meta.url));

export default cleanPhoto;
