/**
 * The order of the rooms, written once: a file imports from its own room and from rooms above it in
 * this list, never from one below. A room is a folder; files that lie directly in the parent of rooms
 * (`src/fit/fit-face.ts`) belong to the parent, which comes after its rooms.
 */
const ROOMS = [
  'src/words',
  'src/club',
  'src/face',
  'src/photo-files',
  'src/request',
  'src/raster',
  'src/fit/camera',
  'src/fit/find',
  'src/fit/edges',
  'src/fit/start',
  'src/fit/flat',
  'src/fit',
  'src/marks/candidates',
  'src/marks/flat-view',
  'src/marks/network',
  'src/marks/hand-made',
  'src/marks/standing',
  'src/marks/before-after',
  'src/marks',
  'src/two-views',
  'src/groups',
  'src/tuning/bow',
  'src/tuning/record',
  'src/tuning/response',
  'src/tuning/advice',
  'src/tuning',
  'src/trends',
  'src/reading',
  'src/drawing',
  'src/evening',
  'src/tables',
  'server/files',
  'server/processes',
  'server/decode',
  'server/reading',
  'server/log',
  'server/queue',
  'server/watch',
  'server/worker',
  'server/picture',
  'server/batch',
  'server/http',
  'server/cli/terminal',
  'server/cli/options',
  'server/cli/commands',
  'server/cli',
  'web/reader',
  'web/state',
  'web/files',
  'web/store',
  'web/open-ends',
  'web/parts',
  'web/keep',
  'web/backup',
  'web/look',
  'web/verdict',
  'web/set-ups',
  'web/trends',
  'web/evening',
  'web/pages',
  'web',
];

/** Everything in a room, less what lies in rooms of their own within it. */
function within(room) {
  const inner = ROOMS.filter((other) => other.startsWith(`${room}/`)).map((other) => `${other}/`);
  return { path: `^${room}/`, ...(inner.length > 0 && { pathNot: `^(${inner.join('|')})` }) };
}

/** Neighbours of the same parent, and everything in other parents, that come later in the order. */
const onlyDown = ROOMS.slice(0, -1).map((room, place) => ({
  name: `only-down-from-${room.replaceAll('/', '-')}`,
  comment: 'Imports only go down the order of the rooms: move what both need to the room above.',
  severity: 'error',
  from: within(room),
  to: {
    path: `^(${ROOMS.slice(place + 1)
      .map(roomPattern)
      .join('|')})`,
  },
}));

/** A pattern of the files of one room alone. */
function roomPattern(room) {
  const inner = ROOMS.filter((other) => other.startsWith(`${room}/`)).map((other) =>
    other.slice(room.length + 1),
  );
  return inner.length > 0 ? `${room}/(?!(${inner.join('|')})/)` : `${room}/`;
}

export default {
  forbidden: [
    { name: 'no-circles', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'every-file-in-a-room',
      comment: 'A new folder gets its place in the order first.',
      severity: 'error',
      from: {},
      to: {
        path: '^(src|server|web)/.*[.]tsx?$',
        pathNot: `^(${ROOMS.map((room) => `${room}/[^/]+$`).join('|')}|src/index[.]ts$)`,
      },
    },
    {
      name: 'core-imports-no-shell',
      severity: 'error',
      from: { path: '^src/' },
      to: { path: '^(server|web|tests)/' },
    },
    {
      name: 'shells-know-nothing-of-each-other',
      severity: 'error',
      from: { path: '^web/' },
      to: { path: '^server/' },
    },
    {
      name: 'server-without-the-page',
      severity: 'error',
      from: { path: '^server/' },
      to: { path: '^web/' },
    },
    ...onlyDown,
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: ['[.]css$', '[.]onnx', '[.]jpg', '[.]png$', '[.]svg', '[.]woff2'] },
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.mjs', '.js'] },
  },
};
