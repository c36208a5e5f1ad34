import { spawn } from 'node:child_process';

/**
 * Opens an address in the user's browser. Nothing happens where there is none: the address has been printed.
 * @param {string} address
 */
export function openBrowser(address) {
  const [command, ...args] = commands[process.platform] ?? ['xdg-open'];
  if (process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) return;
  const child = spawn(command, [...args, address], { stdio: 'ignore', detached: true });
  child.on('error', () => {});
  child.unref();
}

/** @type {Partial<Record<NodeJS.Platform, [string, ...string[]]>>} */
const commands = {
  darwin: ['open'],
  // Not `cmd /c start`: that would read "&" in an address as the end of a command.
  win32: ['rundll32', 'url.dll,FileProtocolHandler'],
};
