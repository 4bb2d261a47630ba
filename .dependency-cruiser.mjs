// The import law. Every forbidden edge has a name and the reason for it; type imports count. `npm run law` checks it, so does
// `npm run check`, and tests/meta/importLaw.meta.test.ts shows that each edge is really caught.

/** Folders of shared, each with those that stand left of it; a folder may import these, itself and packages. */
const leftOf = {
  units: [],
  spec: ['units'],
  trade: ['units'],
  geometry: ['units'],
  quantities: ['units', 'spec', 'trade', 'geometry'],
  rules: ['units', 'spec', 'trade', 'geometry', 'quantities'],
  gates: ['units', 'spec', 'trade', 'geometry', 'quantities', 'rules'],
  markup: ['units', 'spec', 'trade', 'geometry', 'quantities', 'rules'],
  protocol: ['units', 'spec', 'trade', 'geometry', 'quantities', 'rules', 'gates', 'markup'],
  record: ['units', 'spec', 'trade', 'geometry', 'quantities', 'rules', 'gates', 'markup', 'protocol'],
  papers: ['units', 'spec', 'trade', 'geometry', 'quantities', 'rules', 'gates', 'markup', 'protocol', 'record'],
};

// Tests may look anywhere: they check, nothing is built from them.
const test = '\\.(test|fixture)\\.tsx?$';

/** One forbidden edge. */
const forbid = (name, comment, { from, except, to, unless, ...more }) => ({
  name,
  severity: 'error',
  comment,
  from: { path: from, pathNot: [test, ...(except ?? [])] },
  to: { path: to, ...(unless && { pathNot: unless }), ...more },
});

/** A package that only some places may import. */
const only = (name, packages, places, comment) =>
  forbid(`only-${name}`, comment, { from: '^(shared|server|web|prisma)/', except: places, to: `(^|/)node_modules/(${packages})/` });

const order = Object.entries(leftOf).map(([folder, left]) =>
  forbid(
    `shared-${folder}`,
    `shared/${folder} builds on ${left.length ? left.join(', ') : 'nothing'} only: what stands left can be read, tested and reused without what stands right.`,
    { from: `^shared/${folder}/`, to: '^shared/', unless: `^shared/(${[folder, ...left].join('|')})/` },
  ),
);

export default {
  forbidden: [
    ...order,
    forbid('shared-is-pure', 'The domain runs in the browser, on the server and on the command line: it knows none of them.', {
      from: '^shared/',
      to: '^(server|web|prisma|tests)/',
    }),
    forbid('shared-no-node', 'No I/O in the domain: it would not run in the browser and would not be deterministic.', {
      from: '^shared/',
      to: '.*',
      dependencyTypes: ['core'],
    }),
    forbid('web-not-server', 'What both ends need stands in shared; a browser must not carry server code, or its secrets.', {
      from: '^web/',
      to: '^(server|prisma)/',
    }),
    forbid('server-not-web', 'The server hands out the built app as files; it never runs it.', { from: '^server/', to: '^web/' }),
    forbid('prisma-only-shared', 'Demo data is plain spec entries and points: the server seeds them, they know no server.', {
      from: '^prisma/demo/',
      to: '^(server|web)/',
    }),
    forbid('nothing-built-from-tests', 'Tests check what is built and may go at any time.', { from: '^(shared|server|web|prisma)/', to: '^tests/' }),
    forbid('rule-not-rule', 'A rule is judged alone: shared arithmetic goes to shared/trade or shared/quantities.', {
      from: '^shared/rules/[^/]+/([^/]+)/',
      to: '^shared/rules/[^/]+/[^/]+/',
      unless: '^shared/rules/[^/]+/$1/',
    }),
    only(
      'yjs',
      'yjs',
      ['^shared/(spec|markup)/', '^server/(sync|rooms)/', '^web/sync/'],
      'Authored state has few hands on it: the spec and markup commands, the room that holds the documents, the socket.',
    ),
    only('y-websocket', 'y-websocket', ['^web/sync/'], 'The document socket is opened in one place, so that offline, retry and limits are decided once.'),
    only('y-protocols', 'y-protocols', ['^server/sync/', '^web/sync/'], 'The wire of the documents ends in sync.'),
    only('socket-io', 'socket\\.io(-client)?', ['^server/rooms/', '^web/sync/'], 'The verdict feed has one end on each side; panels read stores.'),
    only('express', 'express|@types/express|helmet|@tus/.*', ['^server/http/', '^server/main\\.ts$'], 'The rest of the server is host-free and can be tested without a port.'),
    only('ws', 'ws|@types/ws', ['^server/sync/'], 'Frames of the document socket are read in one place, with their limits.'),
    only(
      'database',
      '@prisma/.*|prisma|better-sqlite3|@types/better-sqlite3',
      ['^server/storage/', '^prisma/'],
      'Storage is a port: rooms and routes must run on any adapter.',
    ),
    only('three', 'three|@types/three', ['^web/scene/', '^server/measure/'], 'Drawing stays in the scene, so that panels and stores run without a GPU.'),
    only('pdf', 'pdfkit|@types/pdfkit|qrcode|@types/qrcode', ['^server/papers/'], 'A paper is plain blocks until it is printed: what stands on it can be tested without reading a PDF.'),
    only('mail', 'nodemailer|@types/nodemailer|standardwebhooks', ['^server/notices/'], 'What leaves the house leaves by one door, with its limits and its signature.'),
    only('passkeys', '@simplewebauthn/(server|browser)', ['^server/auth/', '^web/sync/'], 'What a passkey signed is verified by our own plain code wherever a record is: only making one, and asking the browser, need the package.'),
    only('photos', 'sharp', ['^server/photos\\.ts$', '^server/papers/'], 'Files of strangers are decoded in one place, with its limits.'),
    only('codec', 'meshoptimizer', ['^server/measure/tiles/', '^web/tiles/'], 'Tiles of scans are packed in one place and unpacked in one: both ends must mean the same stream.'),
    only('react', 'react|react-dom|@types/react|@types/react-dom', ['^web/(panels|ui|state)/', '^web/(app|main)\\.tsx$', '^web/vite\\.config\\.ts$'], 'The domain, the server, the sockets and the scene do not depend on how panels are drawn.'),
    only(
      'zod',
      'zod',
      ['^shared/(protocol|record)/', '^server/(http|record|measure)/', '^web/(panels|sync)/'],
      'Shapes are checked where bytes come in; inside, types hold. The spec has its own field table instead.',
    ),
    forbid('generated-client-in-storage', 'Rows are mapped in storage and never handed on raw.', {
      from: '^(shared|server|web)/',
      except: ['^server/storage/'],
      to: '^prisma/generated/',
    }),
    forbid('demo-data-by-demo', 'Demo data is reached through the seeding only, so that no product code comes to rely on it.', {
      from: '^(shared|server|web)/',
      except: ['^server/demo\\.ts$'],
      to: '^prisma/demo/',
    }),
    forbid('scene-judges-nothing', 'The scene draws what it is told: a second judge would disagree with the first one day.', {
      from: '^web/scene/',
      to: '^shared/(rules|gates|quantities|protocol)/',
    }),
    forbid('scene-opens-nothing', 'The scene is handed plain data; it knows neither stores nor sockets nor panels.', {
      from: '^web/scene/',
      to: '^web/(sync|state|panels)/',
    }),
    forbid('ui-is-dumb', 'Controls take values and call back: they are reused because they know nothing of the job.', {
      from: '^web/ui/',
      to: '^web/(sync|state|panels|scene)/',
    }),
    forbid('http-touches-no-document', 'Routes ask a room; only the room and the socket touch its documents.', {
      from: '^server/http/',
      to: '^(server/sync/|shared/markup/commands)',
    }),
    forbid('rooms-know-no-host', 'A room runs without HTTP and without a database: both are handed to it as ports.', {
      from: '^server/rooms/',
      to: '^server/(http|auth|cli|storage/embedded)/',
    }),
    forbid('storage-knows-no-host', 'An adapter stores: who asks, and over what wire, is none of its business.', {
      from: '^server/storage/',
      to: '^server/(http|rooms|sync|auth|cli)/',
    }),
    forbid('measure-knows-no-host', 'Measurements depend on files and parameters only; so the command line can run them too.', {
      from: '^server/measure/',
      to: '^server/(http|rooms|sync|auth|cli|storage|record)/',
    }),
    forbid('revisions-know-no-host', 'Revisions compare and keep plain states: what is open, and over what wire they are asked for, is handed to them as ports.', {
      from: '^server/revisions/',
      to: '^server/(http|rooms|sync|auth|cli|record|measure|papers|storage/embedded)/',
    }),
    forbid('notices-know-no-host', 'Who is told of what follows from plain states; what is open, and who asks, is handed in as ports.', {
      from: '^server/notices/',
      to: '^server/(http|rooms|sync|auth|cli|record|measure|papers|storage/embedded)/',
    }),
    forbid('papers-know-no-host', 'A paper is printed from plain data alone: the same data gives the same bytes, whoever asks.', {
      from: '^server/papers/',
      to: '^server/(http|rooms|sync|auth|cli|record|measure|storage)/',
      unless: '^server/storage/embedded/root-file\\.ts$',
    }),
    forbid('only-http-and-cli-at-the-edge', 'Nothing is built on routes or commands: they call, main wires.', {
      from: '^server/',
      except: ['^server/http/', '^server/main\\.ts$', '^server/(scans|scan-tiles|parts|header-files|live-papers|live-projects|live-notices)\\.ts$'],
      to: '^server/http/',
    }),
    forbid('nothing-on-the-command-line', 'Commands are the outermost part of the server.', {
      from: '^server/',
      except: ['^server/cli/'],
      to: '^server/cli/',
    }),
    {
      name: 'no-circle',
      severity: 'error',
      comment: 'Two modules that need each other are one module, or hide a third.',
      from: { pathNot: [test, '/generated/'] },
      to: { circular: true },
    },
    {
      name: 'found',
      severity: 'error',
      comment: 'An import that does not resolve would pass every other line of this law.',
      from: { pathNot: ['/generated/'] },
      to: { couldNotResolve: true, pathNot: ['\\.css$', '\\?raw$'] },
    },
  ],
  options: {
    doNotFollow: { path: ['node_modules', '/generated/'] },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'node', 'default'] },
  },
};
