#!/usr/bin/env node
// Checks that this Node can run the program before any newer syntax is read, then starts it.
// A script of the old kind, so that the version is told without loading what runs modules.
const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 11)) {
  process.stderr.write(
    `pomary needs Node 20.11 or later; this is Node ${process.versions.node}.\n`,
  );
  process.exitCode = 3;
} else if (!toldVersion(process.argv.slice(2))) {
  start();
}

function start() {
  try {
    require('../dist/main.js');
  } catch (error) {
    if (error.code !== 'MODULE_NOT_FOUND' || !String(error.message).includes('dist')) throw error;
    process.stderr.write('pomary has not been built yet: run npm run build first.\n');
    process.exitCode = 3;
  }
}

/** Whether the version was all that was asked for, and could be written at once. */
function toldVersion([asked, ...others]) {
  if ((asked !== '--version' && asked !== '-V') || others.length > 0) return false;
  try {
    const line = `${require('../package.json').version}\n`;
    return require('node:fs').writeSync(1, line) === line.length;
  } catch {
    // Whatever is wrong with the output, the program finds too, and knows what to do about it.
    return false;
  }
}
