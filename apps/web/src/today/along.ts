import { useQuery } from '@tanstack/react-query'
import { type CivilDate, daysBetween } from '@underbough/model'
import { address, keptAnswer, type TreeAlong, type TreeRow } from '../api/index.ts'

/** Trees along the way of a day that this device keeps, from the day's pack; null where it keeps none. The office is not asked. */
export const useTreesAlong = (date: CivilDate): readonly TreeAlong[] | null =>
  useQuery({
    queryKey: ['today', date, 'along'],
    queryFn: async () => {
      const kept = await keptAnswer(address(`/days/${date}/trees`))
      return kept ? ((await kept.read()) as { trees: TreeAlong[] }).trees : null
    },
  }).data ?? null

/** Those whose tag, species or name holds the words, as the office searches: letters large or small. */
export function foundAlong(trees: readonly TreeAlong[], words: string, on: CivilDate): TreeRow[] {
  const asked = words.toLowerCase()
  return trees
    .filter(({ tag, species, commonName }) =>
      [tag, species, commonName ?? ''].some((one) => one.toLowerCase().includes(asked)),
    )
    .map(({ dueOn, ...tree }) => ({
      ...tree,
      due: null,
      overdueDays: dueOn === null ? 0 : Math.max(0, daysBetween(dueOn, on)),
      ratingOpen: false,
      siteId: null,
      heightM: null,
      stemDiameterCm: null,
    }))
}
