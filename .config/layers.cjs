// Arrows point one way: see "The map of the house" in DEVELOPERS.md.
const pure = ['wood', 'exposure', 'rating', 'rounds', 'field', 'exchange']
const never = (name, from, to, comment) => ({ name, severity: 'error', comment, from, to })

module.exports = {
  forbidden: [
    never('no-circles', {}, { circular: true }, 'Two files that import each other cannot be read apart.'),
    never(
      'model-stands-on-nothing',
      { path: '^packages/model/' },
      { path: '^(packages/(?!model)|apps|db|fixtures)' },
      'model is the ground floor.',
    ),
    ...pure.map((name) =>
      never(
        `${name}-knows-only-model`,
        { path: `^packages/${name}/` },
        { path: `^(packages/(?!model|${name})|apps|db|fixtures)` },
        'The domain packages stand side by side on model.',
      ),
    ),
    never(
      'pictures-below-apps',
      { path: '^packages/pictures/' },
      { path: '^(apps|db|fixtures)' },
      'Pictures are drawn from plain data.',
    ),
    never(
      'packages-are-pure',
      { path: '^packages/', pathNot: '\\.spec\\.tsx?$' },
      { dependencyTypes: ['core'] },
      'Packages run in the phone too: no I/O, no Node modules.',
    ),
    never(
      'db-knows-only-model',
      { path: '^db/', pathNot: '^db/src/demo/' },
      { path: '^(packages/(?!model)|apps|fixtures)' },
      'The database holds records; it computes nothing.',
    ),
    never(
      'demo-load',
      { path: '^db/src/demo/' },
      { path: '^apps' },
      'The demo is loaded without the server.',
    ),
    never(
      'web-not-server',
      { path: '^apps/web/' },
      { path: '^(apps/server|db|fixtures)' },
      'The client talks to the server over HTTP alone.',
    ),
    never(
      'server-not-web',
      { path: '^apps/server/' },
      { path: '^apps/web' },
      'The server serves built files; it imports none.',
    ),
    never(
      'one-map-door',
      { path: '^apps/web/src/', pathNot: '^apps/web/src/map/' },
      { path: 'node_modules/(maplibre-gl|terra-draw)' },
      'Only apps/web/src/map touches the map engine.',
    ),
    never(
      'sql-in-queries',
      { path: '^apps/server/src/.*/(route|service)\\.ts$' },
      { path: 'node_modules/(drizzle-orm|postgres)' },
      'SQL lives in queries.ts.',
    ),
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '(\\.spec\\.tsx?$|/dist/)' },
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'default'] },
  },
}
