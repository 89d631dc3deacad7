export const help = `Underbough on the command line. The database is the one that DATABASE_URL names, else the embedded
one in UNDERBOUGH_DATA (stop the server first: two programs cannot share the embedded one).

  npm run underbough -- found NAME --time-zone ZONE --hemisphere north|south
      Founds an organisation in an empty database (started with UNDERBOUGH_DEMO=no).
      --measured-at METRES     height at which stems are measured there (1.3)
      --units metric|inch-pound
  npm run underbough -- add-person --name NAME --email ADDRESS --role manager|officer|inspector|client
      Lets a person sign in; the password is made here and shown once.
      --qualification WORDS, --expires-on DATE, --organisation NAME
  npm run underbough -- import FILE --kind trees|zones|ground
      Shows how the file would be read, one verdict a row by kind, and what would change. Writes nothing without --yes.
      --yes                    write what was shown, all or nothing; nothing stored is ever deleted
      --preview                show only, whatever else is said
      --refused OUT.csv        write the refused rows there, with their reasons, to be mended and brought in again
      --map COLUMN=FIELD       take a column for a field; may be given many times. Fields of trees: sourceKey,
                               sourceKeyPart, tag, species, commonName, diameter, circumference, height,
                               crownBaseHeight, crownDiameter, crownRadius, count, owner, plantedYear, status, note,
                               x, y, geometry, ignore. Fields of zones and ground: name, kind
      --crs EPSG:NUMBER        reference system of the coordinates, where it is not WGS84
      --unit cm|mm|m|in        unit of stem diameters
      --height-unit m|ft       unit of heights
      --measured-at METRES     height above ground at which stems were measured
      --circumference          the column of stem diameters holds girths
      --decimal-comma          figures are written 12,5
      --as KIND                what zones or ground are where the file does not tell
      --width METRES           width given to lines that become zones
      --organisation NAME      where there is more than one
  npm run underbough -- recompute exposure|due     compute anew for every tree
  npm run underbough -- migrate                    bring the database up to date
  npm run underbough -- help                       this page

Exit codes: 0 done, 1 refused or failed (nothing was written), 2 the command was not understood.`
