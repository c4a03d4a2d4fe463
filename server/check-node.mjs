// Plain JavaScript on purpose: it must run on the Node versions that cannot run the server's TypeScript.
const major = Number(process.versions.node.split('.')[0]);
if (major < 24) {
  console.error(
    `Farwall needs Node 24 or newer, this is ${process.versions.node}. ` +
      'On Linux and Windows "npm ci" brings it along (do not omit optional packages); elsewhere install it from nodejs.org.',
  );
  process.exit(1);
}
