import { address } from '../api/index.ts'
import { count, Facts, LinkButton, Notice, Plate } from '../look/index.ts'
import type { ImportStatus } from './types.ts'
import { kindNames } from './words.ts'

/** What became of a list that was brought in, and where to go from here. */
export function DonePart({ status }: { status: ImportStatus }) {
  const { counts, kind } = status
  const { one, many } = kindNames[kind]
  const figure = (n: number) => n.toLocaleString('en-GB')
  return (
    <>
      <Notice tone="kept" title={`${count(counts.new, `new ${one}`, `new ${many}`)} brought in.`}>
        {counts.changed > 0 ? `${count(counts.changed, one, many)} changed. ` : ''}
        {kind === 'trees' ? 'Falls and due dates are reckoned now; the map fills as they are ready.' : ''}
      </Notice>
      <Plate title="What came of it">
        <div className="done-facts">
          <Facts
            rows={[
              ['Rows in the file', figure(counts.rows)],
              ['New', figure(counts.new)],
              ['Changed', figure(counts.changed)],
              ['The same as before', figure(counts.same)],
              ['Gone from the list, kept here', figure(counts.gone)],
              ['Refused', figure(counts.refused)],
            ]}
          />
        </div>
      </Plate>
      <div className="row c wrap">
        <LinkButton to="/ground" kind="do">
          Show the ground
        </LinkButton>
        {kind === 'trees' ? <LinkButton to="/trees">The trees</LinkButton> : null}
        {counts.refused > 0 ? (
          <a
            className="press press-plain"
            href={address(`/imports/${status.importId}/refused.csv`)}
            download="refused.csv"
          >
            Download {count(counts.refused, 'refused row')}
          </a>
        ) : null}
        <LinkButton to="/import" kind="quiet">
          Bring in another list
        </LinkButton>
      </div>
    </>
  )
}
