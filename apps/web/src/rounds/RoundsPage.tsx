import { useState } from 'react'
import { useSearchParams } from 'react-router'
import { useCrews, useDueStrip, usePlan, usePlans } from '../api/index.ts'
import { Button, Empty, ErrorNote, Loading, sayDate, sayTime } from '../look/index.ts'
import { Board } from './Board.tsx'
import { DayLeaf } from './DayLeaf.tsx'
import { daysOf, saySaving } from './facts.ts'
import { LeftOver } from './LeftOver.tsx'
import { Making } from './Making.tsx'
import { PlanDialog } from './PlanDialog.tsx'
import './rounds.css'

/** The planning desk: days by crew on a board, one day on the map, what was left over, and the days to send. */
export default function RoundsPage() {
  const [words, setWords] = useSearchParams()
  const plans = usePlans()
  const crews = useCrews()
  const strip = useDueStrip({ weeksBack: 4, weeksAhead: 26 })
  const [asking, setAsking] = useState(false)
  const [made, setMade] = useState<{ planId: string; jobId: string } | null>(null)
  const chosenId = words.get('plan') ?? plans.data?.find((plan) => plan.state !== 'making')?.id ?? null
  const choose = (plan: string) => setWords({ plan })
  if (plans.error)
    return (
      <div className="page">
        <ErrorNote
          title="The plans cannot be shown."
          error={plans.error}
          action={<Button onPress={() => plans.refetch()}>Try again</Button>}
        />
      </div>
    )
  if (!plans.data || !crews.data) return <Loading>Fetching the plans.</Loading>
  return (
    <>
      {made ? (
        <Making
          jobId={made.jobId}
          onEnded={(kept) => {
            setMade(null)
            plans.refetch()
            if (kept) choose(made.planId)
          }}
        />
      ) : null}
      {chosenId ? (
        <PlanDesk
          key={chosenId}
          id={chosenId}
          crews={crews.data}
          onAgain={() => setAsking(true)}
          onChoose={choose}
        />
      ) : made ? null : (
        <div className="page">
          <h1>Rounds</h1>
          <Empty
            title="No plan yet."
            action={
              <Button kind="do" onPress={() => setAsking(true)}>
                Plan rounds
              </Button>
            }
          >
            A plan says which crew looks at which trees on which day, and why a tree is left over.
          </Empty>
        </div>
      )}
      {asking ? (
        <PlanDialog
          crews={crews.data}
          today={strip.data?.today ?? null}
          onClose={() => setAsking(false)}
          onMade={(plan) => {
            setAsking(false)
            setMade(plan)
          }}
        />
      ) : null}
    </>
  )
}

interface DeskProps {
  id: string
  crews: Parameters<typeof Board>[0]['crews']
  onAgain(): void
  onChoose(plan: string): void
}
function PlanDesk({ id, crews, onAgain, onChoose }: DeskProps) {
  const plan = usePlan(id)
  const plans = usePlans()
  const [date, setDate] = useState<string | null>(null)
  if (plan.error)
    return (
      <div className="page">
        <ErrorNote
          title="This plan cannot be shown."
          error={plan.error}
          action={
            <Button kind="do" onPress={onAgain}>
              Plan again
            </Button>
          }
        />
      </div>
    )
  if (!plan.data) return <Loading>Fetching the plan.</Loading>
  const { plan: head, daySheets, unplaced } = plan.data
  const days = daysOf(daySheets)
  const day = days.find((d) => d.date === date) ?? days[0] ?? null
  const placed = daySheets.reduce((sum, sheet) => sum + sheet.stops.length, 0)
  const atWork = crews.filter((crew) => daySheets.some((sheet) => sheet.crewId === crew.id))
  const others = (plans.data ?? []).filter((p) => p.state !== 'making' && p.id !== id).slice(0, 3)
  return (
    <div className="rounds">
      <div className="rounds-desk">
        <div className="row wrap">
          <h1>{`${days.length} ${days.length === 1 ? 'day' : 'days'}, ${atWork.length} ${atWork.length === 1 ? 'crew' : 'crews'}`}</h1>
          <span className="sp s q">{`Plan ${head.number}, made ${sayDate(head.madeAt.slice(0, 10), true)} ${sayTime(head.madeAt)}, seed ${head.asked.seed}`}</span>
        </div>
        <p className="rounds-says">{saySaving(head, placed, unplaced.length)}</p>
        <p className="s q">
          {others.map((p) => (
            <Button
              key={p.id}
              kind="quiet"
              className="line-press"
              onPress={() => onChoose(p.id)}
            >{`Plan ${p.number}`}</Button>
          ))}
        </p>
        {days.length === 0 ? (
          <Empty
            title="Nothing was due in these days."
            action={
              <Button kind="do" onPress={onAgain}>
                Plan again
              </Button>
            }
          >
            Take in more weeks, or enjoy the week.
          </Empty>
        ) : (
          <Board days={days} crews={atWork} chosen={day?.date ?? null} onChoose={setDate} />
        )}
        <LeftOver unplaced={unplaced} />
      </div>
      {day ? <DayLeaf planId={id} day={day} crews={atWork} onAgain={onAgain} /> : null}
    </div>
  )
}
