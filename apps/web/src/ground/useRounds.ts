import type { CivilDate } from '@underbough/model'
import { useMemo } from 'react'
import { useCrews, usePlan, usePlans } from '../api/index.ts'
import { riskRank } from '../look/index.ts'
import type { RouteLine } from '../map/index.ts'
import type { PlannedStop } from './TreeLeaf.tsx'

export interface RoundsShown {
  date: CivilDate | null
  routes: RouteLine[]
  letters: string[]
  crews: number
  /** Where a tree stands on the rounds to come. */
  plannedOf(treeId: string): PlannedStop | null
}

/** The rounds of the next planned day, for the map, and where each tree stands on the days to come. */
export function useRounds(today: CivilDate | null): RoundsShown {
  const plans = usePlans()
  const crews = useCrews()
  const made = plans.data?.filter((p) => p.state !== 'making') ?? []
  const newest = made.find((p) => p.state === 'published') ?? made[0]
  const plan = usePlan(newest?.id ?? null)
  return useMemo(() => {
    const letterOf = new Map((crews.data ?? []).map((c) => [c.id, c.letter]))
    const sheets = (plan.data?.daySheets ?? []).filter(
      (s) => s.stops.length > 0 && (!today || s.date >= today),
    )
    const date = sheets.map((s) => s.date).sort()[0] ?? null
    const day = sheets.filter((s) => s.date === date)
    const routes = day.map(({ crewId, stops }) => ({
      letter: letterOf.get(crewId) ?? 'A',
      line: stops.map((s) => s.tree.position),
      stops: stops.map((s, i) => ({ position: s.tree.position, order: i + 1, risk: riskRank(s.tree.risk) })),
    }))
    return {
      date,
      routes,
      letters: [...new Set(routes.map((r) => r.letter))].sort(),
      crews: crews.data?.length ?? 0,
      plannedOf: (treeId) => {
        for (const sheet of sheets) {
          const at = sheet.stops.findIndex((s) => s.tree.id === treeId)
          if (at >= 0) return { letter: letterOf.get(sheet.crewId) ?? 'A', date: sheet.date, order: at + 1 }
        }
        return null
      },
    }
  }, [plan.data, crews.data, today])
}
