# Five months of an invented shop, brought in from its notes on one evening in November, as its owner would type it.
# COATBOOK_TODAY stands in for the calendar; on the real day it is not needed.
export COATBOOK_TODAY=2026-11-10

# The shop, and whom and what it works with.
coatbook init --name "Larkfield Aircraft Finish" \
  --address "Hangar 7\n4100 Runway Road\nMesa Alta, TX 78000" \
  --email shop@example.com --phone 555-0100 --zone America/Chicago --net-days 14 \
  --pay-how "Check to Larkfield Aircraft Finish, at the address above\nBank transfer: ask for the details by phone"
coatbook business overhead 9.50 --from 2026-04-27 --on 2026-04-27
coatbook import customers customers.csv
coatbook import sites sites.csv
coatbook import workers workers.csv
coatbook import papers papers.csv
coatbook import exemptions exemptions.csv
coatbook import aircraft aircraft.csv
coatbook import surfaces surfaces.csv
coatbook import times times.csv
coatbook aircraft keepoff tern-12 --prefill turboprop
coatbook aircraft keepoff tern-12 "vortex generator" --place "both wings" --count 44
coatbook import materials materials.csv
coatbook import services services.csv
coatbook import tax-rates tax-rates.csv
coatbook import terms terms.csv
coatbook import purchases purchases.csv

# Eleven jobs as they were asked for, looked at and read.
coatbook import jobs jobs.csv
coatbook import parties parties.csv
coatbook import steps steps.csv
coatbook import surface-conditions surface-conditions.csv
coatbook import readings gauge.csv --job 1 --gauge "eddy current" --serial EC-5107 --on 2026-05-11
coatbook import readings readings.csv
coatbook import steps steps-changed.csv
coatbook import signing signing.csv
coatbook import deposits deposits.csv --yes

# What the last of them would take of the coating, asked before it is promised.
coatbook calc coverage --file wings.toml --on-hand "200 mL"

# Agreed, each on its day, past the safety gate. The cowling of job 6 was too thin: it is planned anew, coated only.
coatbook job agree 1 --by "Jo Dell" --on 2026-05-12
coatbook job agree 2 --by "the club's treasurer" --on 2026-05-13
coatbook job agree 3 --by "Tern's director of maintenance" --on 2026-05-25
coatbook job agree 4 --by "Tern's director of maintenance" --on 2026-06-10
coatbook job agree 5 --by "Ash Rowe" --on 2026-06-19
coatbook job agree 6 --by "the club's maintenance officer" --on 2026-07-06
coatbook job agree 7 --by "Tern's director of maintenance" --on 2026-07-14 \
  --on-authority "P. Lund" --certificate "A&P 0000002" --document "interior finish sheet 25-20" \
  --why "burn basis of the seats is 14 CFR 25.853 by the type's record"
coatbook job agree 10 --by "Hale's office" --on 2026-08-12 \
  --on-authority "R. Moor" --certificate "A&P 0000001" --document "maintenance manual 51-20" \
  --why "bare clad skin, two light passes, thickness measured after"
coatbook job agree 11 --by "Jo Dell" --on 2026-09-04
coatbook job agree 12 --by "Tern's director of maintenance" --on 2026-09-25

# On the floor: what was done, used and found.
coatbook import arrivals arrivals.csv
coatbook import changes changes.csv
coatbook import masks masks.csv
coatbook import stops stops.csv
coatbook import conditions conditions.csv
coatbook import hours hours.csv
coatbook import shop-hours shop-hours.csv
coatbook import uses uses.csv
coatbook import expenses expenses.csv
coatbook import shop-expenses shop-expenses.csv
coatbook import travel travel.csv
coatbook import coats coats.csv
coatbook import notes notes.csv
coatbook import mask-looks mask-looks.csv
coatbook import handovers handovers.csv

# Streaks under the wing of job 5 come back as a rework, on the shop.
coatbook job open rowe-sr22 mesa "streaks under the left wing" --rework-of 5 \
  --cause "coated over a damp panel" --number 8 --on 2026-08-04
coatbook job plan 8 coating --surface "left wing" --hours 3h --on 2026-08-04
coatbook job signing 8 "no entry expected" --by "R. Moor" --certificate "A&P 0000001" \
  --document "maintenance manual 51-10" --why "cosmetic work on the finish" --on 2026-08-04
coatbook job agree 8 --by "Ash Rowe" --on 2026-08-04
coatbook job arrive 8 --by "Sam Reed" --on 2026-08-05
coatbook log hours 8 sam 4h --step 1 --on 2026-08-05
coatbook log coat 8 ceramic "left wing" --lot K-52 --on 2026-08-05
coatbook log use 8 ceramic "95 mL" --step 1 --on 2026-08-05
coatbook job handover 8 --to "Ash Rowe" --no-charge --on 2026-08-06

# One job is called off, and part of its deposit is kept.
coatbook job cancel 9 --by "Jo Dell" --why "the engine comes off first" --on 2026-08-12
coatbook deposit keep 9 200.00 --why "two days held free, as agreed" --on 2026-08-12 --yes
coatbook deposit refund 9 300.00 --method transfer --on 2026-08-13 --yes

# Invoiced on the day of the handover.
coatbook invoice issue 2 --on 2026-05-15 --yes
coatbook invoice issue 1 --on 2026-05-22 --yes
coatbook invoice issue 3 --on 2026-06-11 --yes
coatbook invoice issue 4 --on 2026-06-18 --yes
coatbook invoice issue 5 --on 2026-06-27 --yes
coatbook invoice issue 6 --on 2026-07-10 --yes
coatbook invoice issue 7 --on 2026-07-24 --yes
coatbook invoice issue 10 --on 2026-08-20 --yes
coatbook invoice issue 11 --on 2026-09-10 --yes
coatbook import payments payments.csv --yes

# A mark changes, an aircraft is sold.
coatbook import marks marks.csv
coatbook import owners owners.csv

# The months: reviewed, and the first two closed.
coatbook review month 2026-05 > review-2026-05.txt
coatbook review month 2026-06 > review-2026-06.txt
coatbook review month 2026-07 > review-2026-07.txt
coatbook review month 2026-08 > review-2026-08.txt
coatbook review month 2026-09 > review-2026-09.txt
coatbook review month 2026-06 --json > review-2026-06.json
coatbook book close 2026-04 --yes
coatbook book close 2026-05 --yes
coatbook export journal 2026-06 --to journal-2026-06.csv

# What is next.
coatbook job show 6
coatbook material trace K-40
coatbook upkeep show tern-12
coatbook remind send --outbox . --yes
coatbook book check
