// npm run check: lint, formatting, types, layers, dead code, paths named in the documents, licences. All run; any failure fails.
import { spawnSync } from 'node:child_process'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = join(dirname(fileURLToPath(import.meta.url)), '..')
const failed = []
function step(name, command, args) {
  const { status, stdout, stderr } = spawnSync(command, args, {
    cwd: root,
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  })
  console.log(`${status === 0 ? 'holds ' : 'BROKEN'}  ${name}`)
  if (status !== 0) failed.push(name) && console.log(`${stdout}${stderr}`)
}
function rule(name, problems) {
  console.log(`${problems.length === 0 ? 'holds ' : 'BROKEN'}  ${name}`)
  if (problems.length > 0)
    failed.push(name) && console.log(problems.map((line) => `        ${line}`).join('\n'))
}

step('lint and formatting', 'npx', ['biome', 'check', '.'])
step('types', 'npx', ['tsc', '-p', '.'])
step('layers', 'npx', ['depcruise', '--config', '.config/layers.cjs', 'apps', 'packages', 'db', 'fixtures'])
step('dead code', 'npx', ['knip', '--config', '.config/knip.json'])
rule('top level', strangers())
rule('paths and commands named in the documents', deadNames())
rule('licences of what is linked', licences())
process.exit(failed.length === 0 ? 0 : 1)

function strangers() {
  const allowed = [
    'README.md',
    'DEVELOPERS.md',
    'LICENSE',
    'package.json',
    'package-lock.json',
    'tsconfig.json',
    'apps',
    'packages',
    'db',
    'tests',
    'fixtures',
    'node_modules',
  ]
  const named = readdirSync(root).filter((name) => !name.startsWith('.') && !allowed.includes(name))
  const missing = allowed.filter((name) => !existsSync(join(root, name)))
  return [
    ...named.map((name) => `${name} does not belong at the top`),
    ...missing.map((name) => `${name} is missing`),
  ]
}

/** Every `path/like/this` and `npm run word` in the documents must exist. */
function deadNames() {
  const scripts = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).scripts
  const problems = []
  const documents = [
    'README.md',
    'DEVELOPERS.md',
    ...readdirSync(join(root, 'packages')).map((name) => `packages/${name}/README.md`),
  ]
  for (const document of documents.filter((name) => existsSync(join(root, name)))) {
    const text = readFileSync(join(root, document), 'utf8')
    for (const [, path] of text.matchAll(
      /`((?:apps|packages|db|tests|fixtures|\.config|\.ci)\/[\w./-]*[\w/-])`/g,
    ))
      if (!existsSync(join(root, path))) problems.push(`${document} names ${path}, which is gone`)
    for (const [, name] of text.matchAll(/npm run ([\w:-]+)/g))
      if (!(name in scripts)) problems.push(`${document} names npm run ${name}, which is gone`)
  }
  return problems
}

/** Linked code is permissive; each exception is named here with its reason. */
function licences() {
  const permissive =
    /^(\(?(MIT|MIT-0|ISC|Apache-2\.0|BSD|BSD-2-Clause|BSD-3-Clause|0BSD|BlueOak-1\.0\.0|CC0-1\.0|Unlicense|Zlib|Python-2\.0|PostgreSQL|Hippocratic-2\.1-none)( (OR|AND) )?\)?)+$/
  const exceptions = {
    'axe-core': 'MPL-2.0, used by tests alone',
    '@axe-core/playwright': 'MPL-2.0, used by tests alone',
    '@fontsource-variable/source-sans-3': 'OFL-1.1, a font',
    jsts: 'EDL-1.0, which is BSD-3-Clause; used by tests alone',
    '@turf/jsts': 'EDL-1.0, which is BSD-3-Clause; used by tests alone',
    arc: 'MIT by its LICENSE file; used by tests alone',
    jstat: 'MIT by its LICENSE file; used by tests alone',
    suncalc: 'BSD-2-Clause by its LICENSE file',
    'splaytree-ts': 'BSD-3-Clause, misspelt in its package.json; used by tests alone',
    lightningcss: 'MPL-2.0, used while building alone',
    '@electric-sql/pglite-postgis':
      'holds PostGIS, unmodified, GPL-2.0-or-later: a database extension, named in the README',
    'caniuse-lite': 'CC-BY-4.0, data used while building alone',
  }
  const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages
  const problems = []
  for (const [path, entry] of Object.entries(lock)) {
    if (!path.includes('node_modules/') || entry.link) continue
    const name = path.slice(path.lastIndexOf('node_modules/') + 13)
    const family = Object.keys(exceptions).some((known) => name === known || name.startsWith(`${known}-`))
    if (!family && !permissive.test(entry.license ?? ''))
      problems.push(`${name}: ${entry.license ?? 'no licence stated'}`)
  }
  return [...new Set(problems)]
}
