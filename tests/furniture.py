"""What a furnished test book holds, as the commands a user would type."""

import shlex

FURNISHED_ON = "2026-03-02"
_COMMANDS = r"""
business overhead 18.50
customer add alder --name "Jo Alder" --address "12 Field Lane\nMesa Alta, TX 78000" --email jo@example.com
customer add birch --name "Birch Flying Club" --address "3 Hill Road\nMesa Alta, TX 78000"
site add mesa --name "North field, hangar 7" --address "4100 Runway Road\nMesa Alta, TX 78000" --place US-TX
worker add sam --name "Sam Reed" --kind owner
worker add kim --name "Kim Soto" --kind employee
worker rate sam 45.00
worker rate kim 28.00
aircraft add skylane --maker Cessna --model 182T --serial 18299901 --year 2005 --mark N123AB --owner alder
aircraft surface skylane "left wing" --area "84 ft2" --substrate aluminum --paint base/clear --layers-known
aircraft surface skylane elevator --area "20 ft2" --substrate aluminum --paint base/clear --balanced no
material add sealant --name "Paint sealant" --unit "fl oz" --fact spreading="500 ft2/gal"
material buy sealant "1 qt" 48.00 --supplier "Hillside Supply" --lot B-204
material terms sealant wash --every "6 months" --grace 30
service add wash --name Wash
service add polish --name "Prep polish" --abrasive
service add coating --name "Protective coating"
service price wash 150.00 --per job
service price polish 4.25 --per area
service price coating 6.00 --per area
tax add US-TX labor 6.25 --name "State sales tax"
job open skylane mesa "Polish and coating"
job plan 1 wash
job plan 1 polish --surface "left wing" --removal "1.5 µm" --hours 5h
job plan 1 coating --surface "left wing" --material sealant
"""
COMMANDS = tuple((*shlex.split(line), "--on", FURNISHED_ON) for line in _COMMANDS.strip().splitlines())
