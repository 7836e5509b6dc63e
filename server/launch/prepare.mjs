import { prepareBundle } from './bundle.mjs';

// Where this fails, the first command tries again.
await prepareBundle().catch(() => undefined);
