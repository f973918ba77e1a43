# The first job of an invented shop, as its owner would type it, day by day.
# COATBOOK_TODAY stands in for the calendar; on the real days it is not needed.

# Setting up, in April.
export COATBOOK_TODAY=2026-04-27
coatbook init --name "Larkfield Aircraft Finish" \
  --address "Hangar 7\n4100 Runway Road\nMesa Alta, TX 78000" \
  --email shop@example.com --phone 555-0100 --zone America/Chicago --net-days 14 \
  --pay-how "Check to Larkfield Aircraft Finish, at the address above\nBank transfer: ask for the details by phone"
coatbook business overhead 9.50
coatbook worker add sam --name "Sam Reed" --kind owner --rate 55.00
coatbook worker add kit --name "Kit Osei" --kind employee --rate 24.50
coatbook site add mesa --name "Mesa Alta Municipal, hangar 7" --place US-TX-MESAALTA \
  --address "4100 Runway Road\nMesa Alta, TX 78000"

# What the shop does, and for how much.
coatbook service add wash --name "Decontamination wash" --price 240.00 --per job
coatbook service add oxidation --name "Oxidation removal" --abrasive --price 6.40 --per area
coatbook service add prep --name "Prep polish" --abrasive --price 3.10 --per area
coatbook service add coating --name "Protective coating" --price 4.85 --per area
coatbook tax add US-TX labor 6.25 --name "State sales tax"
coatbook tax add US-TX-MESAALTA labor 2 --name "Local sales tax"

# What it works with. The coating's label asks for upkeep.
coatbook material add soap --name "Aircraft wash concentrate" --unit "fl oz"
coatbook material add compound --name "Oxidation compound" --unit "fl oz"
coatbook material add polish --name "Fine polish" --unit "fl oz"
coatbook material add ceramic --name "Ceramic paint coating" --unit mL \
  --fact spreading="120 m2/L" --fact loss="15 %" --fact pack="100 mL" --evidence "label, checked April 2026"
coatbook material terms ceramic "decontamination wash" --every "6 months" --grace 14 --miss shortens
coatbook material terms ceramic "inspection" --every "12 months" --grace 30 --miss ends
coatbook material buy soap "1 gal" 38.40 --supplier "Field Supply" --lot S-11
coatbook material buy compound "64 fl oz" 118.00 --supplier "Field Supply" --lot C-204
coatbook material buy polish "32 fl oz" 61.00 --supplier "Field Supply" --lot P-88
coatbook material buy ceramic "500 mL" 365.00 --supplier "Field Supply" --lot K-31 --expires 2027-10-31

# An owner asks; the aircraft is looked at and its film is read.
export COATBOOK_TODAY=2026-05-11
coatbook customer add dell --name "Jo Dell" --address "12 Field Lane\nPiedra, NM 88000" \
  --email jo.dell@example.com --phone 555-0142
coatbook aircraft add dell-172 --maker Cessna --model 172N --serial 17270001 --year 1978 \
  --mark N123AB --owner dell
coatbook aircraft surface N123AB "left wing" --area "84 ft2" --substrate aluminum \
  --paint single-stage --layers-known --primer "20 µm"
coatbook aircraft surface N123AB "right wing" --area "84 ft2" --substrate aluminum \
  --paint single-stage --layers-known --primer "20 µm"
coatbook aircraft surface N123AB fuselage --area "190 ft2" --substrate aluminum \
  --paint single-stage --layers-known --primer "20 µm"
coatbook aircraft surface N123AB tail --area "96 ft2" --substrate aluminum \
  --paint single-stage --layers-known --primer "20 µm"
coatbook job open N123AB mesa "oxidation removal and coating"
coatbook job plan 1 wash --hours 3h --material soap
coatbook job plan 1 oxidation --surface "left wing" --surface "right wing" --surface fuselage \
  --surface tail --removal "2 µm" --hours 5h --material compound
coatbook job plan 1 prep --surface "left wing" --surface "right wing" --surface fuselage \
  --surface tail --removal "1 µm" --hours 2.5h --material polish
coatbook job plan 1 coating --surface "left wing" --surface "right wing" --surface fuselage \
  --surface tail --hours 2h --material ceramic
coatbook log reading 1 --file gauge.csv --gauge "eddy current" --serial EC-5107
coatbook calc thickness --job 1
coatbook calc coverage --job 1

# Agreed past the film gate, then on the floor.
export COATBOOK_TODAY=2026-05-12
coatbook job signing 1 "no entry expected" --by "R. Moor" --certificate "A&P 0000001" \
  --document "maintenance manual 51-10" --why "cosmetic work on the finish, nothing is removed"
coatbook job agree 1 --by "Jo Dell"
export COATBOOK_TODAY=2026-05-18
coatbook job arrive 1 --by "Sam Reed"
coatbook log mask 1 on "static port" 2
coatbook log mask 1 on "fuel cap" 2
coatbook log hours 1 kit 3h --step 1
coatbook log use 1 soap "12 fl oz" --step 1
coatbook log travel 1 "46 mi" --rate 0.70 "to the field and back"
coatbook log hours 1 sam 4.5h --step 2
coatbook log hours 1 kit 4h --step 3
coatbook log use 1 compound "17 fl oz"

export COATBOOK_TODAY=2026-05-19
coatbook log hours 1 sam 9h --step 4
coatbook log hours 1 kit 14h --step 5
coatbook strike last --why "Kit was here for four hours, not fourteen"
coatbook log hours 1 kit 4h --step 5
coatbook log use 1 compound "29 fl oz"

export COATBOOK_TODAY=2026-05-20
coatbook log hours 1 sam 6h --step 8
coatbook log hours 1 kit 6.5h --step 6
coatbook log use 1 polish "18 fl oz"
coatbook log expense 1 85.00 "hangar, one day more"

export COATBOOK_TODAY=2026-05-21
coatbook log conditions 1 --air "72 °F" --skin "74 °F" --humidity "41 %"
coatbook log hours 1 sam 7h --step 12
coatbook log coat 1 ceramic "left wing" "right wing" fuselage tail --lot K-31
coatbook log use 1 ceramic "415 mL" --step 12
coatbook log mask 1 off "static port" 2
coatbook log mask 1 off "fuel cap" 2
coatbook log mask 1 look --by "Kit Osei"

# Handed over, invoiced the same day, and paid in part.
export COATBOOK_TODAY=2026-05-22
coatbook job show 1
coatbook job handover 1 --to "Jo Dell"
coatbook invoice issue 1 --yes
export COATBOOK_TODAY=2026-06-02
coatbook payment take dell 4000.00 --invoice 2026-0001 --method check --reference 1187 --yes

# The month's review, its journal, and the months closed, April with its purchases first.
coatbook review job 1
coatbook review month 2026-05 > review-2026-05.txt
coatbook review month 2026-05 --json > review-2026-05.json
coatbook export journal 2026-05 --to journal-2026-05.csv
coatbook book close 2026-04 --yes
coatbook book close 2026-05 --yes
coatbook payment take dell 3312.18 --invoice 2026-0001 --method transfer --yes

# Half a year later the coating's first upkeep comes due, and its owner hears of it.
export COATBOOK_TODAY=2026-11-10
coatbook upkeep show N123AB
coatbook remind preview
coatbook remind send --outbox . --yes
coatbook remind list
coatbook book check
