// The printing thread's body from source. A loader given to a thread on its command line reads no TypeScript there: the thread has to ask for it itself.
import { register } from 'tsx/esm/api';

register();
const { default: print } = await import('./print.ts');
export default print;
