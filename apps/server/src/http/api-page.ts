interface Operation {
  summary?: string
  tags?: string[]
  parameters?: { name: string; in: string; required?: boolean }[]
  requestBody?: unknown
}

const escaped = (text: string) => text.replace(/[&<>"]/g, (c) => `&#${c.charCodeAt(0)};`)

/** A plain page of every route by subject, made from the same document that programs read. */
export function apiPage(document: { paths?: Record<string, unknown> }): string {
  const subjects = new Map<string, string[]>()
  for (const [path, methods] of Object.entries(document.paths ?? {}))
    for (const [method, value] of Object.entries(methods as Record<string, Operation>)) {
      const { summary = '', tags = ['other'], parameters = [], requestBody } = value
      const takes = [
        ...parameters.map((p) => `${p.name}${p.required ? '' : '?'}`),
        ...(requestBody ? ['a body'] : []),
      ].join(', ')
      const row = `<tr><td><code>${method.toUpperCase()}</code></td><td><code>/api${escaped(path)}</code></td><td>${escaped(summary)}</td><td>${escaped(takes)}</td></tr>`
      subjects.set(tags[0]!, [...(subjects.get(tags[0]!) ?? []), row])
    }
  const tables = [...subjects]
    .map(([name, rows]) => `<h2>${escaped(name)}</h2><table>${rows.join('')}</table>`)
    .join('')
  return `<!doctype html><html lang="en"><meta charset="utf-8"><title>Underbough: the API</title>
<style>body{font:16px/1.4 system-ui,sans-serif;max-width:70rem;margin:2rem auto;padding:0 1rem;color-scheme:light dark}table{border-collapse:collapse;width:100%}td{border-bottom:1px solid #8886;padding:.35rem .6rem .35rem 0;vertical-align:top}h2{margin-top:2rem;text-transform:capitalize}</style>
<h1>Underbough: the API</h1><p>Every answer is JSON; every refusal is a problem document (RFC 9457) with one code for each reason. The schema of each body stands in <a href="/api/openapi.json">openapi.json</a>.</p>${tables}</html>`
}
