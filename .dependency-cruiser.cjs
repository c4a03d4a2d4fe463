/** The rules of import: see DEVELOPERS.md. tests/unit/boundaries.test.ts makes sure that this configuration sees and refuses. */
const PURE = '^(shared-types|server/planning|server/results)/';

module.exports = {
  forbidden: [
    { name: 'client-not-server', severity: 'error', from: { path: '^client/' }, to: { path: '^(server|tests)/' } },
    { name: 'server-not-client', severity: 'error', from: { path: '^server/' }, to: { path: '^(client|tests)/' } },
    {
      name: 'shared-types-alone',
      severity: 'error',
      from: { path: '^shared-types/' },
      to: { path: '^(client|server|tests)/' },
    },
    {
      name: 'pure-stays-in-pure',
      comment: 'planning and results may only use shared-types and each other',
      severity: 'error',
      from: { path: '^server/(planning|results)/' },
      to: { path: '^(client|tests|server/(?!planning/|results/))' },
    },
    {
      name: 'pure-no-node',
      comment: 'no Node, no clock, no network in pure code',
      severity: 'error',
      from: { path: PURE },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'pure-few-packages',
      comment: 'pure code may use a schema, a parser and a CSV library only',
      severity: 'error',
      from: { path: PURE },
      to: {
        dependencyTypes: ['npm', 'npm-dev', 'npm-optional', 'npm-no-pkg', 'npm-unknown'],
        pathNot: 'node_modules/(zod|chevrotain|papaparse)/',
      },
    },
    {
      name: 'screens-apart',
      comment: 'wall, deck and desk share code through client/common only',
      severity: 'error',
      from: { path: '^client/(wall|deck|desk)/' },
      to: { path: '^client/(wall|deck|desk)/', pathNot: '^client/$1/' },
    },
    { name: 'no-circular', severity: 'error', from: {}, to: { circular: true } },
    { name: 'resolvable', severity: 'error', from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^(dist|data)/' },
    parser: 'swc',
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.tsx', '.js', '.mjs', '.css'],
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default', 'types'],
    },
  },
};
