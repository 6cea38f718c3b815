#!/usr/bin/env node
// Checks that this Node can run the program before any newer syntax is read, then starts it.
const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 11)) {
  process.stderr.write(
    `pomary needs Node 20.11 or later; this is Node ${process.versions.node}.\n`,
  );
  process.exitCode = 3;
} else {
  import('../dist/main.js').catch((error) => {
    if (error?.code !== 'ERR_MODULE_NOT_FOUND' || !String(error.message).includes('dist'))
      throw error;
    process.stderr.write('pomary has not been built yet: run npm run build first.\n');
    process.exitCode = 3;
  });
}
