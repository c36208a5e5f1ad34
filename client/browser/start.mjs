// Serves VS Code with Springwright to a browser on this machine: `npm start -- --help`.
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { openBrowser } from './open-browser.mjs';
import { readOptions, usage } from './options.mjs';
import { startServer } from './server.mjs';
import { prepareWorkingCopy } from './working-copy.mjs';

try {
  await start();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}

async function start() {
  const options = readOptions(process.argv.slice(2));
  if (options.help) {
    console.log(usage);
    return;
  }
  const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
  const folder = await prepareWorkingCopy({ root, folder: options.folder, fresh: options.fresh });
  const server = await startServer({ root, folder, port: options.port });
  console.log(`Springwright in VS Code: ${server.address}`);
  console.log(`Edits are saved in ${folder}`);
  console.log('Stop with Ctrl+C. The address works on this machine only, until then.');
  if (options.open) openBrowser(server.address);
}
