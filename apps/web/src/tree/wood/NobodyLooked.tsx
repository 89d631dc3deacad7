import { Empty, Plate } from '../../look/index.ts'
import { AddReading } from '../../probes/index.ts'

/** The place of the readings while there are none. */
export function NobodyLooked({ no, treeId }: { no: number; treeId: string }) {
  return (
    <Plate no={no} title="Inside the stem" className="wide">
      <Empty title="Nobody has looked." action={<AddReading treeId={treeId} />}>
        What lies under the bark is not known. A mallet round, the measure of an opening, a core or a drilling
        stands here once somebody has taken one.
      </Empty>
    </Plate>
  )
}
