import { Button, Field } from '../look/index.ts'
import { Chip } from './pieces.tsx'
import type { Told } from './told.ts'

const ways = ['by telephone', 'in person', 'by radio', 'by message'] as const
const localTime = (instant: string) => {
  const at = new Date(instant)
  return `${String(at.getHours()).padStart(2, '0')}:${String(at.getMinutes()).padStart(2, '0')}`
}
/** The same day at another time of this device's clock. */
function atTime(instant: string, time: string): string {
  const [hours, minutes] = time.split(':').map(Number)
  const at = new Date(instant)
  if (hours === undefined || minutes === undefined || Number.isNaN(hours + minutes)) return instant
  at.setHours(hours, minutes, 0, 0)
  return at.toISOString()
}

/** Who was told, how and when: one part for each person. */
export function ToldPart(props: {
  told: readonly Told[]
  onChange(told: Told[]): void
  onMore(): void
  refusalFor(field: string): string | null
}) {
  const { told, onChange, onMore, refusalFor } = props
  const put = (i: number, part: Partial<Told>) =>
    onChange(told.map((one, at) => (at === i ? { ...one, ...part } : one)))
  return (
    <section className="urgent-told" aria-labelledby="urgent-told">
      <h2 id="urgent-told">Who was told</h2>
      {told.map((one, i) => {
        const which = told.length > 1 ? ` ${i + 1}` : ''
        return (
          <fieldset key={i} className="urgent-one" aria-label={`Told${which}`}>
            <Field
              label={`Who${which}`}
              value={one.whom}
              onChange={(whom) => put(i, { whom })}
              refusal={refusalFor('toldWhom')}
            />
            <div className="chips">
              {ways.map((way) => (
                <Chip key={way} chosen={one.how === way} onPress={() => put(i, { how: way })}>
                  {way}
                </Chip>
              ))}
            </div>
            <div className="two">
              <Field
                label={`How${which}`}
                value={one.how}
                onChange={(how) => put(i, { how })}
                refusal={refusalFor('toldHow')}
              />
              <Field
                label={`When${which}`}
                type="time"
                value={localTime(one.at)}
                onChange={(time) => put(i, { at: atTime(one.at, time) })}
                refusal={refusalFor('toldAt')}
              />
            </div>
            {told.length > 1 ? (
              <Button
                kind="quiet"
                aria-label={`Take ${one.whom || `person ${i + 1}`} out`}
                onPress={() => onChange(told.filter((_, at) => at !== i))}
              >
                Take out
              </Button>
            ) : null}
          </fieldset>
        )
      })}
      <Button kind="quiet" onPress={onMore}>
        Somebody else was told
      </Button>
    </section>
  )
}
