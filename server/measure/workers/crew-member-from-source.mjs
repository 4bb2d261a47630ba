// The helper's body from source; see from-source.mjs.
import { register } from 'tsx/esm/api';

register();
await import('./crew-member.ts');
