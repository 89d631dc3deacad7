import { LinkButton } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { useReadingsHere } from './hooks.ts'

/** The way to the form for a reading, and how many wait on this device. Nothing for those who may not enter one. */
export function AddReading({ treeId, kind = 'plain' }: { treeId: string; kind?: 'do' | 'plain' | 'quiet' }) {
  const { role } = usePerson()
  const here = useReadingsHere(treeId)
  if (role !== 'inspector' && role !== 'officer') return null
  return (
    <span className="add-reading">
      <LinkButton kind={kind} to={`/trees/${treeId}/readings/new`}>
        Add a reading
      </LinkButton>
      {here.length > 0 ? (
        <span className="s q"> {here.length} on this device, not yet in the office</span>
      ) : null}
    </span>
  )
}
