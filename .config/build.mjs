// `npm run build`: everything anew.
import { buildAll, orFail } from './ready.mjs';

await orFail(() => buildAll({ always: true }));
