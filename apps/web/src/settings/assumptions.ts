import { classHours, heightFromStemM } from '@underbough/exposure'
import { failureWords, occupancyWords, visitLevels } from '@underbough/model'
import { impactCuts, startingBands, startingVulnerability, WIDEST_BAND } from '@underbough/rating'
import { daysUntilDouble, minutesByLevel, defaultStraightLine as way } from '@underbough/rounds'
import { sayBand } from './estimateWords.ts'

/** A figure of ours that no published source gives, where it works, and where it may be changed. */
export interface AssumedFigure {
  what: string
  figure: string
  where: string
}
export interface AssumedGroup {
  title: string
  figures: readonly AssumedFigure[]
}

const heightAt = (diameterCm: number) => {
  const height = heightFromStemM(diameterCm)
  return height.ok ? `${height.value.toFixed(1)} m at ${diameterCm} cm` : ''
}
const hoursOf = (word: (typeof occupancyWords)[number]) => {
  const { fromHour, toHour, days } = classHours[word]
  return `${word}: ${fromHour} to ${toHour} h, ${days.length === 7 ? 'every day' : `${days.length} day${days.length === 1 ? '' : 's'} a week`}`
}
const computed = 'in every figure of people under a fall'
const planned = 'in every plan of rounds'

/** The figures as the program uses them now, read from where they are used. */
export const assumptions: readonly AssumedGroup[] = [
  {
    title: 'What falls, and when',
    figures: [
      {
        what: 'Height where nobody measured it, from the stem',
        figure: [20, 80].map(heightAt).join(', '),
        where: 'marked as an estimate wherever it is used',
      },
      {
        what: 'A tree is as likely to fail at one hour as at another',
        figure: 'all hours alike',
        where: computed,
      },
    ],
  },
  {
    title: 'Who is there, where only the trade’s word is known',
    figures: occupancyWords.map((word) => ({
      what: `Hours of the word “${word}”`,
      figure: hoursOf(word).replace(`${word}: `, ''),
      where: 'in zones without figures of their own',
    })),
  },
  {
    title: 'Words beside figures',
    figures: [
      {
        what: 'Where the figure of impact parts very low, low, medium and high',
        figure: impactCuts.map((cut) => `${Number((cut * 100).toFixed(1))} %`).join(', '),
        where: 'it may question an inspector’s word and never lowers one',
      },
      {
        what: 'Months, grace and deadlines',
        figure: 'the policy',
        where: 'editable: the policy beside this',
      },
    ],
  },
  {
    title: 'Expected per year, where it is switched on',
    figures: [
      ...failureWords.map((word) => ({
        what: `What “${word}” means as a chance within its time frame`,
        figure: sayBand(startingBands.words[word]),
        where: 'to start from; decided with the estimate',
      })),
      {
        what: 'Widest band that may be used, from end to end',
        figure: `${WIDEST_BAND} times`,
        where: 'wider would agree with any record',
      },
      {
        what: 'Somebody within the outline is killed',
        figure: sayBand(startingVulnerability),
        where: 'to start from; decided with the estimate',
      },
    ],
  },
  {
    title: 'Rounds',
    figures: [
      ...visitLevels.map((level) => ({
        what: `Time at a tree, level ${level}`,
        figure: `${minutesByLevel[level]} minutes`,
        where: planned,
      })),
      { what: 'A day late weighs twice as much after', figure: `${daysUntilDouble} days`, where: planned },
      { what: 'Pace on foot', figure: `${(way.walkMetresPerSecond * 3.6).toFixed(1)} km/h`, where: planned },
      {
        what: 'Speed through town',
        figure: `${(way.driveMetresPerSecond * 3.6).toFixed(1)} km/h`,
        where: planned,
      },
      { what: 'Time to park', figure: `${way.parkMinutes} minute`, where: planned },
      {
        what: 'Way on the ground over the straight line',
        figure: `${way.detourFactor} times`,
        where: 'editable: at each site',
      },
    ],
  },
]
