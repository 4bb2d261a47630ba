import { Router } from 'express';
import { API_VERSION, openApi, whoWords } from '../../shared/protocol/openapi.ts';
import type { Route } from '../../shared/protocol/route.ts';
import { routes } from '../../shared/protocol/routes.ts';

/** GET /api/openapi.json, and GET /api/docs: the same as a page without script. */
export function openApiRoutes(): Router {
  const router = Router();
  const document = JSON.stringify(openApi());
  const page = docsPage();
  router.get('/openapi.json', (_req, res) => {
    res.type('json').send(document);
  });
  router.get('/docs', (_req, res) => {
    res.type('html').send(page);
  });
  router.get('/docs/style.css', (_req, res) => {
    res.type('css').send(STYLE);
  });
  return router;
}

const escapes: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const escaped = (text: string): string => text.replace(/[&<>"]/g, (mark) => escapes[mark] ?? mark);

function row(route: Route): string {
  const { method, path, title, scope, answers, headers = [] } = route;
  const cells = [
    `<code>${method.toUpperCase()} ${escaped(path)}</code>${headers.length > 0 ? `<br>${headers.join(', ')}` : ''}`,
    escaped(title),
    escaped(whoWords(route)),
    scope === null ? 'not for tokens' : `<code>${scope}</code>`,
    Object.keys(answers).join(', '),
  ];
  return `<tr>${cells.map((cell) => `<td>${cell}</td>`).join('')}</tr>`;
}

function section(topic: string): string {
  const head = ['Call', 'What', 'Who', 'Scope', 'Answers'].map((name) => `<th scope="col">${name}</th>`).join('');
  const body = routes.filter((route) => route.topic === topic).map(row);
  return `<h2>${escaped(topic)}</h2>
<div class="wide"><table><thead><tr>${head}</tr></thead>
<tbody>
${body.join('\n')}
</tbody></table></div>`;
}

function docsPage(): string {
  const topics = [...new Set(routes.map(({ topic }) => topic))];
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Slipjoint over HTTP</title>
<link rel="stylesheet" href="/api/docs/style.css">
</head>
<body>
<main>
<h1>Slipjoint over HTTP</h1>
<p>Version ${API_VERSION}. Shapes of bodies and answers stand in <a href="/api/openapi.json">openapi.json</a> (OpenAPI 3.1).</p>
<p>A script sends <code>Authorization: Bearer sj_...</code> with a key made in the job, under Keys. A key acts for one person in one job,
within its scopes and that person’s roles, until its end. Nothing can be signed with a key.</p>
<p>Errors are <code>application/problem+json</code>: <code>code</code> names the kind, <code>detail</code>, <code>expected</code> and
<code>came</code> the case. Too many requests are answered with 429 and Retry-After.</p>
${topics.map(section).join('\n')}
</main>
</body>
</html>
`;
}

const STYLE = `:root { color-scheme: light dark; }
body { font: 16px/1.5 system-ui, sans-serif; margin: 0; }
main { max-width: 75rem; margin: 0 auto; padding: 1rem; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: 0.4rem 0.75rem 0.4rem 0; border-bottom: 1px solid #8888; }
code { font-size: 0.9em; }
`;
