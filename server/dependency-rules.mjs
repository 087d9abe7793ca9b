/** Rooms in their order: a room knows those before it and none after it. */
const ROOMS = ['shop', 'members', 'inductions', 'press', 'resin', 'plates', 'bookings', 'runs', 'desk'];

/** Who may do what is one table, which every command asks, whichever room it is in. */
const TABLE_FOR_ALL = '^server/members/permissions\\.ts$';

const laterRooms = ROOMS.slice(0, -1).map((room, place) => ({
  name: `${room}-knows-no-later-room`,
  comment: 'A room calls only rooms before it; what a later one must do is a listener, wired in app.ts.',
  severity: 'error',
  from: { path: `^server/${room}/` },
  to: { path: `^server/(${ROOMS.slice(place + 1).join('|')})/`, pathNot: TABLE_FOR_ALL },
}));

/** @type {import('dependency-cruiser').IConfiguration} */
export default {
  forbidden: [
    {
      name: 'engineering-stands-alone',
      comment: 'engineering/ uses nothing of ours outside itself, and no framework, database, file or clock.',
      severity: 'error',
      from: { path: '^server/engineering/' },
      to: {
        pathNot: ['^server/engineering/', '^node_modules/clipper2-ts/'],
      },
    },
    {
      name: 'nobody-imports-routes-or-pages',
      comment:
        'Routes and pages are the edge: app.ts puts them in, or the one routes.ts or pages.ts of their room.',
      severity: 'error',
      from: { pathNot: ['^server/app\\.ts$', '^server/[a-z]+/(routes|pages)\\.ts$'] },
      to: { path: ['routes\\.ts$', 'pages\\.ts$'] },
    },
    {
      name: 'a-room-gathers-its-own-edge',
      comment:
        'A room may split its routes and pages by subject; one file of the room registers them, and no other.',
      severity: 'error',
      from: { path: '^server/([a-z]+)/(routes|pages)\\.ts$' },
      to: { path: ['routes\\.ts$', 'pages\\.ts$'], pathNot: '^server/$1/' },
    },
    {
      name: 'words-and-pictures-know-no-room',
      comment:
        'Codes and figures go in, text and drawings come out; only the types of codes come from a room.',
      severity: 'error',
      from: { path: '^server/(words|pictures)/' },
      to: { path: `^server/(${ROOMS.join('|')}|http|database)/`, dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'database-knows-no-room',
      comment: 'The way to PostgreSQL is the same whoever uses it.',
      severity: 'error',
      from: { path: '^server/database/' },
      to: { path: `^server/(${ROOMS.join('|')}|http|words|pictures|engineering)/` },
    },
    {
      name: 'no-cycle',
      comment: 'A file that needs itself cannot be read alone.',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'no-import-of-tests',
      comment: 'What runs does not lean on what tests it.',
      severity: 'error',
      from: { path: '^(server|prisma)/' },
      to: { path: '^tests/' },
    },
    {
      name: 'nothing-unresolvable',
      comment: 'An import that leads nowhere, or to a package that package.json does not list.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
    ...laterRooms,
  ],
  options: {
    doNotFollow: { path: ['node_modules', '^server/database/generated/', '^dist/'] },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'node', 'default'] },
  },
};
