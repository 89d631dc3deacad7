/** Every rule that can shape a due date, by name, as one sentence. The reasons drawer and the handbook read from here. */
export const rules = {
  'gone-is-not-due': 'A tree that is gone, or a stump, is not looked at again.',
  'never-seen':
    'A tree nobody has looked at is due within the months its use allows after it came in, largest stems first.',
  'level-not-reached': 'Until a look on the level the case asks for, the first look stays due.',
  'interval-by-case':
    'The interval follows use of the zone, size of the part and the expected rate of change.',
  'risk-caps-interval': 'The risk rating caps the interval.',
  'residual-risk-counts': 'Once the work is done, the risk that remains counts.',
  'not-rated': 'A tree that was seen and not rated is taken for the risk the policy names.',
  'rated-elsewhere': 'A rating that came without a look may bring the date forward and never moves it later.',
  'heaviest-use-counts': 'Where zone and rated targets differ, the heaviest use counts.',
  'lesser-look-keeps-clock': 'A look on a lower level does not restart the clock of a higher one.',
  'month-end': 'Months are counted from the last look and end on the last day of a shorter month.',
  'season-moved-earlier':
    'Out of season, the look moves to the last day in season if that keeps enough of the interval.',
  'season-waits': 'Out of season, the look may wait for the season within the grace of its risk.',
  'season-missed': 'Where the season cannot be kept, the date stands and a second look is planned.',
  'event-brings-forward': 'An event brings the look forward; several count once, the earliest wins.',
  'work-asks-for-look': 'A work that monitors or looks deeper is a look by its date.',
  'untreated-follows-work':
    'Untreated, an extreme, high or imminent tree follows its work; a look does not change that.',
  'no-work-proposed': 'With no work open, an untreated tree has the deadline of its risk.',
  'imminent-is-an-action': 'Imminent failure overrides the time frame: an action, not an interval.',
  'refused-is-untreated': 'A work that was refused leaves the tree untreated.',
  'work-deadline-by-risk': 'A work without a date has the deadline of its risk.',
  'open-work-comes-first': 'An open work that falls before the next look is what is due.',
} as const

export type RuleName = keyof typeof rules
