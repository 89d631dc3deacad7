/** A proj string for one band of latitudes. */
interface Band {
  fromLatitude: number
  toLatitude: number
  proj4: string
}

/** How to reach WGS84; the first band serves for a first look. `accuracyM` is null where there is nothing to say. */
export interface Shifts {
  bands: Band[]
  accuracyM: number | null
}

interface Shift {
  fromLatitude: number
  toLatitude: number
  towgs84: string
}

/**
 * Seven-parameter shifts where the EPSG dataset names a grid file, which is not carried here. From the EPSG dataset
 * (IOGP), position vector convention: operations 1777 to 1780 (DHDN, by latitude), 1314 (OSGB36), 1564 (NZGD49),
 * 1173 (NAD27, the 48 states). Accuracy as stated there.
 */
const gridShifts: Record<string, { accuracyM: number; shifts: Shift[] }> = {
  'BETA2007.gsb': {
    accuracyM: 1,
    shifts: [
      everywhere('598.1,73.7,418.2,0.202,0.045,-2.455,6.7', false),
      band(47, 50.335, '597.1,71.4,412.1,0.894,0.068,-1.563,7.58'),
      band(50.335, 52.335, '584.8,67,400.3,0.105,0.013,-2.378,10.29'),
      band(52.335, 55.5, '590.5,69.5,411.6,-0.796,-0.052,-3.601,8.3'),
    ],
  },
  'OSTN15_NTv2_OSGBtoETRS.gsb': {
    accuracyM: 2,
    shifts: [everywhere('446.448,-125.157,542.06,0.15,0.247,0.842,-20.489')],
  },
  'nzgd2kgrid0005.gsb': {
    accuracyM: 4,
    shifts: [everywhere('59.47,-5.04,187.44,0.47,-0.1,1.024,-4.5993')],
  },
  'NTv2_0.gsb': { accuracyM: 10, shifts: [everywhere('-8,160,176')] },
}

function everywhere(towgs84: string, used = true): Shift {
  return { fromLatitude: used ? -90 : 91, toLatitude: 91, towgs84 }
}

function band(fromLatitude: number, toLatitude: number, towgs84: string): Shift {
  return { fromLatitude, toLatitude, towgs84 }
}

/** What a datum without any shift may be out by: the usual size of the shifts between old national datums. Assumption. */
const UNSHIFTED_M = 200

/** Shifts for a proj string, or `null` where it needs a grid nobody knows a stand-in for. */
export function shiftsFor(proj4: string): Shifts | null {
  const grid = /\+nadgrids=(\S+)/.exec(proj4)?.[1]
  if (!grid || grid === '@null') {
    const tied = /towgs84|datum=WGS84|ellps=(GRS80|WGS84)|nadgrids=@null/.test(proj4)
    return { bands: [{ fromLatitude: -90, toLatitude: 91, proj4 }], accuracyM: tied ? null : UNSHIFTED_M }
  }
  const known = gridShifts[grid]
  if (!known) return null
  const bands = known.shifts.map(({ towgs84, ...latitudes }) => ({
    ...latitudes,
    proj4: proj4.replace(/\+nadgrids=\S+/, `+towgs84=${towgs84}`),
  }))
  return { bands, accuracyM: known.accuracyM }
}
