// Checks GLB files with Khronos' glTF validator; prints one JSON object, by file: errors, warnings, messages.
const fs = require('fs');
const path = require('path');
const validator = require(path.join(process.env.OUTSIDE_NODE, 'node_modules', 'gltf-validator'));

async function main() {
  const found = {};
  for (const file of process.argv.slice(2)) {
    const { issues } = await validator.validateBytes(new Uint8Array(fs.readFileSync(file)));
    found[file] = { errors: issues.numErrors, warnings: issues.numWarnings, messages: issues.messages.slice(0, 5) };
  }
  console.log(JSON.stringify(found));
}

main();
