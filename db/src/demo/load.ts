import type { DemoIsland } from '@underbough/fixtures'
import { combinedDiameterCm } from '@underbough/model'
import type { Database, Session } from '../door.ts'
import * as tables from '../schema/index.ts'

const CHUNK = 400

/** Writes the demo island into an empty database, all or nothing. Accounts get their passwords from the caller. */
export async function loadDemo(database: Database, island: DemoIsland) {
  const organisationId = island.organisation.id
  const idOf = new Map(island.people.map((person) => [person.name, person.personId]))
  const personId = (name: string) => idOf.get(name) ?? island.people[0]!.personId
  await database.transaction(async (tx) => {
    const put = <T extends object>(table: Parameters<Session['insert']>[0], rows: T[]) =>
      insertAll(tx, table, organisationId, rows)
    await tx.insert(tables.organisation).values({ ...island.organisation, demo: true })
    await tx
      .insert(tables.authUser)
      .values(
        island.people.map(({ personId: id, name, email }) => ({ id, name, email, emailVerified: true })),
      )
    await put(
      tables.membership,
      island.people.map(({ personId: id, role, qualification, qualificationExpiresOn }) => ({
        personId: id,
        role,
        qualification,
        qualificationExpiresOn,
      })),
    )
    await put(tables.policy, [
      { edition: island.policy.edition, content: island.policy, madeBy: island.people[0]!.personId },
    ])
    await put(tables.site, island.sites)
    await put(tables.groundFeature, island.groundFeatures)
    // A zone that is part of another one comes after it.
    await put(
      tables.zone,
      island.zones.toSorted((a, b) => Number(a.partOf !== null) - Number(b.partOf !== null)),
    )
    await put(tables.crew, island.crews)
    await put(
      tables.tree,
      island.trees.map((tree) => ({
        ...tree,
        position: { type: 'Point', coordinates: tree.position },
        stemDiameterCm:
          tree.stems.length > 0 ? combinedDiameterCm(tree.stems.map((stem) => stem.diameterCm)) : null,
        enteredOn: tree.createdAt.slice(0, 10),
      })),
    )
    await put(tables.visit, island.visits)
    await put(
      tables.finding,
      island.visits.flatMap((visit) =>
        visit.findings.map((finding) => ({ ...finding, visitId: visit.id, treeId: visit.treeId })),
      ),
    )
    await put(tables.probe, island.probes)
    await put(
      tables.probeBorders,
      island.probes.flatMap(({ id, borders }) => borders.map((one) => ({ ...one, probeId: id }))),
    )
    await put(
      tables.rating,
      island.ratings.map((rating) => ({ ...rating, personId: personId(rating.personName) })),
    )
    await put(tables.work, island.works)
    await put(
      tables.urgentNote,
      island.urgentNotes.map((note) => ({ ...note, personId: personId(note.personName) })),
    )
    await put(
      tables.failure,
      island.failures.map((failure) => ({
        ...failure,
        place: failure.place && { type: 'Point', coordinates: failure.place },
      })),
    )
    await put(
      tables.walkOver,
      island.walkOvers.map((walk) => ({
        ...walk,
        personId: island.people.find((p) => p.role === 'inspector')!.personId,
      })),
    )
    await tx.insert(tables.mapVersion).values({ organisationId })
  })
  // Nobody else does it on the embedded database, and without it the first queries are planned blindly.
  await database.sql`analyze`
}

async function insertAll(
  tx: Session,
  table: Parameters<Session['insert']>[0],
  organisationId: string,
  rows: object[],
) {
  for (let at = 0; at < rows.length; at += CHUNK)
    await tx
      .insert(table)
      .values(rows.slice(at, at + CHUNK).map((row) => ({ organisationId, ...row })) as never)
}
