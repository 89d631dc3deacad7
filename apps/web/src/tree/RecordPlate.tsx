import type { TreeWhole } from '../api/index.ts'
import { useSites } from '../api/index.ts'
import { Button, Facts, Plate } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { ChangeWaits } from './ChangeWaits.tsx'
import { sayPosition } from './facts.ts'
import { fieldNames, sayField } from './fieldWords.ts'
import { SpeciesWords } from './wood/SpeciesWords.tsx'

/** What is on record about the tree itself. */
export function RecordPlate({
  no,
  whole: { tree },
  onEdit,
}: {
  no: number
  whole: TreeWhole
  onEdit(): void
}) {
  const sites = useSites()
  const { role } = usePerson()
  const say = (field: Parameters<typeof sayField>[0]) =>
    [fieldNames[field], sayField(field, tree[field])] as const
  const site = sites.data?.find((one) => one.id === tree.siteId)?.name ?? 'none'
  return (
    <Plate no={no} title="The record" aside={`version ${tree.version}`} className="tree-record">
      <ChangeWaits tree={tree} />
      <Facts
        rows={[
          say('status'),
          ...(tree.goneOn ? [say('goneOn')] : []),
          say('stems'),
          ...(tree.group ? [say('group')] : []),
          say('heightM'),
          say('crownBaseHeightM'),
          say('crownRadiiM'),
          say('lean'),
          say('clearingBearingDeg'),
          say('slope'),
          say('deadOrBrittle'),
          say('owner'),
          say('protections'),
          say('powerLinesNear'),
          say('plantedYear'),
          ['Site', site],
          ['Position', sayPosition(tree.position)],
          say('positionAccuracyM'),
          ['In its first list as', tree.sourceKey ?? 'entered here'],
        ]}
      />
      <SpeciesWords tree={tree} />
      {tree.note ? <p className="prose tree-more">{tree.note}</p> : null}
      {tree.powerLinesNear ? (
        <p className="tree-flag s">
          Power lines are near: no work and no instrument here before the line’s owner has said what is
          allowed.
        </p>
      ) : null}
      {role === 'client' ? null : (
        <div className="tree-more">
          <Button onPress={onEdit}>Edit the record</Button>
        </div>
      )}
    </Plate>
  )
}
