import { copyInto, type Session } from '@underbough/db'
import type { Deps } from '../http/context.ts'
import { exposurePolicyOf } from '../policy/exposure.ts'
import { type Encoded, exposureColumns, exposureZoneColumns } from './encode.ts'
import * as queries from './queries.ts'
import type { Solver } from './solvers.ts'

/** How often trees are read again because somebody changed them, or what lies about them, meanwhile. */
const TRIES = 5

/** What became of some trees: how many there are, and how many had to be computed anew. */
export interface Done {
  trees: number
  changed: number
}

/**
 * Works out who is under these trees and puts it in the place of what is stored, in one transaction; trees whose inputs are
 * still those of the stored figures are left alone. Read and worked out before that transaction: where a tree, a zone or the
 * assumptions were changed meanwhile it begins again, and who writes the same square waits, so that older figures never stand
 * over newer ones. `claimed` runs within the transaction; where it answers false nothing is written, and null is returned.
 */
export async function reckonAndWrite(
  deps: Deps,
  organisationId: string,
  which: queries.Which,
  solver: Solver,
  claimed: (tx: Session, done: Done) => Promise<boolean> = async () => true,
): Promise<Done | null> {
  const { db, kind } = deps.database
  for (let tries = 1; ; tries++) {
    const { edition, policy } = await exposurePolicyOf(db, organisationId)
    const trees = await queries.readTrees(db, organisationId, which)
    const roses = await queries.windRoses(db, organisationId)
    const boxes = await solver.prepare({
      organisationId,
      trees: trees.rows,
      roses,
      edition,
      policy,
      together: 'level' in which,
      computedAtMs: deps.now().getTime(),
      encode: kind === 'postgresql' ? 'copy' : 'json',
    })
    const zones = await queries.readZones(db, organisationId, boxes)
    const reckoned = await solver.solve(zones.rows)
    const done = { trees: reckoned.trees, changed: reckoned.changed }
    const outcome = await deps.database.transaction(async (tx) => {
      await queries.lockSquares(tx, organisationId, trees.locks)
      const now = await queries.marksNow(tx, organisationId, which, boxes)
      const same =
        now.trees === trees.mark &&
        now.zones === zones.mark &&
        (await exposurePolicyOf(tx, organisationId)).edition === edition
      if (!same) return 'changed'
      if (!(await claimed(tx, done))) return 'lost'
      if (reckoned.stored.length > 0) await queries.deleteFigures(tx, organisationId, reckoned.stored)
      if (reckoned.written) await insert(tx, reckoned.written)
      return 'written'
    })
    if (outcome === 'written') return done
    if (outcome === 'lost') return null
    if (tries === TRIES)
      throw new Error('The trees were changed again and again while their figures were worked out.')
  }
}

async function insert(tx: Session, written: Encoded) {
  if (written.as === 'copy') {
    await copyInto(tx, `exposure (${exposureColumns})`, written.exposure)
    await copyInto(tx, `exposure_zone (${exposureZoneColumns})`, written.exposureZone)
  } else {
    await queries.insertFigures(tx, 'exposure', exposureColumns, written.exposure)
    await queries.insertFigures(tx, 'exposure_zone', exposureZoneColumns, written.exposureZone)
  }
}
