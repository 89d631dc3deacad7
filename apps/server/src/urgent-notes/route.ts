import { createRoute, z } from '@hono/zod-openapi'
import { acknowledgeInput, urgentNote, urgentNoteInput } from '@underbough/model'
import type { Deps } from '../http/context.ts'
import { refuse } from '../http/problem.ts'
import { allow, answers, body, idParam, nothing, subject } from '../http/subject.ts'
import { treeLine, withLateness } from '../trees/line.ts'
import { treeLines } from '../trees/queries.ts'
import { acknowledgeNote, urgentNotes as allNotes } from './queries.ts'
import { writeNote } from './service.ts'

export const urgentNotes = (deps: Deps) => {
  const { db } = deps.database
  return subject()
    .openapi(
      createRoute({
        method: 'get',
        path: '/urgent-notes',
        tags: ['urgent notes'],
        summary: 'Urgent notes, the newest first',
        request: { query: z.object({ open: z.enum(['true', 'false']).default('false') }) },
        responses: answers(z.object({ notes: z.array(z.object({ note: urgentNote, tree: treeLine })) })),
      }),
      async (c) => {
        const { organisation } = c.get('person')
        const notes = await allNotes(db, organisation.id, c.req.valid('query').open === 'true')
        const lines = await treeLines(
          db,
          organisation.id,
          notes.map((n) => n.treeId),
        )
        const late = withLateness(organisation, deps.now())
        return c.json({ notes: notes.map((note) => ({ note, tree: late(lines.get(note.treeId)!) })) }, 200)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/urgent-notes',
        tags: ['urgent notes'],
        summary: 'Write an urgent note at once',
        request: body(urgentNoteInput),
        responses: nothing,
      }),
      async (c) => {
        const person = allow(c, 'inspector', 'officer', 'manager')
        const input = c.req.valid('json')
        await writeNote(deps, person, input)
        return c.body(null, 204)
      },
    )
    .openapi(
      createRoute({
        method: 'post',
        path: '/urgent-notes/{id}/acknowledge',
        tags: ['urgent notes'],
        summary: 'The office has read it and done something',
        request: { ...idParam, ...body(acknowledgeInput) },
        responses: nothing,
      }),
      async (c) => {
        const person = allow(c, 'officer', 'manager')
        if (
          !(await acknowledgeNote(db, person.organisation.id, c.req.valid('param').id, {
            by: person.name,
            whatWasDone: c.req.valid('json').whatWasDone,
            at: deps.now(),
          }))
        )
          refuse('unknown', 'id', 'There is no such note.')
        return c.body(null, 204)
      },
    )
}
