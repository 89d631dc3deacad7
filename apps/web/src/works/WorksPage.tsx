import { type CivilDate, today as civilToday, type RiskWord, riskWords } from '@underbough/model'
import { TreeMark } from '@underbough/pictures'
import { useState } from 'react'
import { Link } from 'react-router'
import {
  Button,
  capital,
  count,
  Empty,
  ErrorNote,
  LinkButton,
  Loading,
  Plate,
  Select,
  Standing,
  sayDate,
  sayLength,
  Words,
} from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { DecisionDialog } from './DecisionDialog.tsx'
import { DoneDialog } from './DoneDialog.tsx'
import { useWorks } from './hooks.ts'
import {
  byDue,
  isOpen,
  kindWords,
  lateDays,
  type Shown,
  shows,
  stateWords,
  type WorkOfTree,
} from './order.ts'
import './works.css'

const LISTED = 50
const narrowings: readonly { value: Shown; label: string }[] = [
  { value: 'open', label: 'Open' },
  { value: 'late', label: 'Late' },
  { value: 'undecided', label: 'Waiting for the owner' },
  { value: 'done', label: 'Done' },
  { value: 'refused', label: 'Refused' },
  { value: 'all', label: 'All' },
]

/** Works by their date: what is late first, what the owner said, and what is done. */
export default function WorksPage() {
  const me = usePerson()
  const works = useWorks()
  const today = civilToday(me.organisation.timeZone)
  return (
    <div className="page works-page">
      <h1>Works</h1>
      {works.error ? (
        <ErrorNote
          title="The works cannot be fetched."
          error={works.error}
          action={
            <Button kind="do" onPress={() => works.refetch()}>
              Try again
            </Button>
          }
        />
      ) : !works.data ? (
        <Loading>Fetching the works.</Loading>
      ) : works.data.length === 0 ? (
        <Empty title="No work is proposed." action={<LinkButton to="/trees">The trees</LinkButton>}>
          Works are proposed on a visit, and stay here until they are done or refused.
        </Empty>
      ) : (
        <WorksList works={works.data} today={today} />
      )}
      <Standing />
    </div>
  )
}

type RiskChoice = 'any' | 'none' | RiskWord
const riskChoices: readonly { value: RiskChoice; label: string }[] = [
  { value: 'any', label: 'any rating' },
  ...[...riskWords].reverse().map((value) => ({ value, label: value })),
  { value: 'none', label: 'not yet rated' },
]

function WorksList({ works, today }: { works: readonly WorkOfTree[]; today: CivilDate }) {
  const [shown, setShown] = useState<Shown>('open')
  const [risk, setRisk] = useState<RiskChoice>('any')
  const [all, setAll] = useState(false)
  const ofRisk = works.filter(({ tree }) => risk === 'any' || (tree.risk ?? 'none') === risk)
  const rows = byDue(ofRisk.filter(({ work }) => shows(shown, work, today)))
  const late = works.filter(({ work }) => lateDays(work, today) > 0)
  return (
    <>
      <p className="works-says">{saySum(works, late.length)}</p>
      <div className="row wrap works-narrow">
        <Words<Shown>
          label="Which works"
          value={shown}
          options={narrowings.map(({ value, label }) => ({
            value,
            label: `${label} ${ofRisk.filter(({ work }) => shows(value, work, today)).length.toLocaleString('en-GB')}`,
          }))}
          onChange={setShown}
        />
        <Select<RiskChoice>
          label="Rating of the tree"
          value={risk}
          options={riskChoices}
          onChange={setRisk}
        />
      </div>
      <Plate title={narrowings.find((n) => n.value === shown)!.label} aside={count(rows.length, 'work')}>
        {rows.length === 0 ? (
          <Empty
            title="No work is like that."
            action={
              <Button
                onPress={() => {
                  setShown('all')
                  setRisk('any')
                }}
              >
                Show all works
              </Button>
            }
          />
        ) : (
          <table className="works-table">
            <thead>
              <tr>
                <th colSpan={2}>Tree</th>
                <th>Work</th>
                <th>Due</th>
                <th>The owner</th>
                <th className="n">Cost</th>
                <th>
                  <span className="out-of-sight">What to do</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {(all ? rows : rows.slice(0, LISTED)).map((row) => (
                <WorkRow key={row.work.id} row={row} today={today} />
              ))}
            </tbody>
          </table>
        )}
        {rows.length > LISTED && !all ? (
          <Button kind="quiet" onPress={() => setAll(true)}>
            All {rows.length.toLocaleString('en-GB')} works
          </Button>
        ) : null}
      </Plate>
    </>
  )
}

function saySum(works: readonly WorkOfTree[], late: number): string {
  const open = works.filter(({ work }) => isOpen(work))
  const waiting = open.filter(({ work }) => work.decision?.answer !== 'accepted').length
  return `${count(open.length, 'open work')}; ${late.toLocaleString('en-GB')} late; ${waiting.toLocaleString('en-GB')} waiting for the owner’s answer.`
}

function WorkRow({ row: { work, tree }, today }: { row: WorkOfTree; today: CivilDate }) {
  const me = usePerson()
  const [asking, setAsking] = useState<'decision' | 'done' | null>(null)
  const late = lateDays(work, today)
  const close = () => setAsking(null)
  const tag = `${tree.tag} ${tree.commonName ?? tree.species}`
  return (
    <tr>
      <td className="mark-cell">
        <TreeMark
          risk={tree.risk}
          overdue={tree.overdueDays > 0}
          visited={tree.seen}
          status={tree.status}
          boxPx={30}
          hidden
        />
      </td>
      <td className="tree-cell">
        <Link to={`/trees/${tree.id}`} className="b">
          {tag}
        </Link>
        <br />
        <span className="s q">{capital(tree.risk ?? 'not yet rated')}</span>
      </td>
      <td className="work-cell">
        <b>{kindWords[work.kind]}.</b> {sentence(work.description)}
        {work.residualRisk ? <span className="s q"> Left after it: {work.residualRisk}.</span> : null}
      </td>
      <td className="due-cell">
        {late > 0 ? <b className="late">{sayLength(late)} late</b> : null}
        <span className={late > 0 ? 's q' : undefined}>
          {work.state === 'done' && work.doneOn
            ? `done ${sayDate(work.doneOn)}${work.doneBy ? `, ${work.doneBy}` : ''}`
            : work.dueOn
              ? sayDate(work.dueOn)
              : 'no date'}
        </span>
      </td>
      <td className="owner-cell">{sayDecision(work)}</td>
      <td className="n cost-cell">{work.cost === null ? '' : work.cost.toLocaleString('en-GB')}</td>
      <td className="press-cell">
        {isOpen(work) ? (
          <div className="row c work-presses">
            {me.role !== 'inspector' ? (
              <Button aria-label={`Owner’s answer: ${tag}`} onPress={() => setAsking('decision')}>
                Answer
              </Button>
            ) : null}
            {me.role !== 'client' ? (
              <Button aria-label={`Mark done: ${tag}`} onPress={() => setAsking('done')}>
                Done
              </Button>
            ) : null}
          </div>
        ) : null}
        {asking === 'decision' ? (
          <DecisionDialog work={work} tag={tag} today={today} onClose={close} />
        ) : null}
        {asking === 'done' ? <DoneDialog work={work} tag={tag} today={today} onClose={close} /> : null}
      </td>
    </tr>
  )
}

const sentence = (text: string) => (/[.!?]$/.test(text) ? text : `${text}.`)

function sayDecision({ decision, state }: WorkOfTree['work']) {
  if (!decision)
    return <span className="q">{state === 'proposed' ? 'no answer yet' : stateWords[state]}</span>
  return (
    <>
      {decision.answer}
      <br />
      <span className="s q">
        {decision.by}, {sayDate(decision.on, true)}
        {decision.reason ? `: ${decision.reason}` : ''}
      </span>
    </>
  )
}
