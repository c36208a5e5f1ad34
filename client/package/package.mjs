/** Packs the built extension: `npm run package` writes springwright.vsix, which a VS Code on any machine installs. */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { packageContents } from './contents.mjs';
import { zip } from './zip.mjs';

const root = path.resolve(import.meta.dirname, '../..');
const file = 'springwright.vsix';

writeFileSync(path.join(root, file), zip(packageContents(root)));
console.log(`Wrote ${file}. To install it: code --install-extension ${file}`);
