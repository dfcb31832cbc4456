#!/usr/bin/env node
// Entry of the command line. The sources are TypeScript, which Node reads directly from 22.18 on.
const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 22 || (major === 22 && minor < 18)) {
  process.stderr.write(`thou needs Node 22.18 or later; this is ${process.versions.node}.\n`);
  process.exitCode = 2;
} else {
  // what was compiled once is kept, so that the next call starts in half the time
  (await import('node:module')).enableCompileCache?.();
  try {
    const { start } = await import('../src/command-line/main.ts');
    await start();
  } catch (problem) {
    const trail = process.env.THOU_TRACE === '1' ? `${problem?.stack}\n` : '';
    process.stderr.write(
      `thou: Thou could not start; please report this. [start.${problem?.name}] (THOU_TRACE=1 shows where)\n${trail}`,
    );
    process.exitCode = 2;
  }
}
