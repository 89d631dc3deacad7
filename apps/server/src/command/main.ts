import { closeDeps, openDeps } from '../deps.ts'
import { command } from './command.ts'

process.exitCode = await command(process.argv.slice(2), {
  open: () => openDeps('http://127.0.0.1'),
  close: closeDeps,
  print: (line) => console.log(line),
  complain: (line) => console.error(line),
})
