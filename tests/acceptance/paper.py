"""The first job's figures, worked out on paper from the price list and the diary of `demo/first-job/commands.sh`.

Areas: 84 + 84 + 190 + 96 = 454 ft2

Invoice
    decontamination wash              once      240.00
    oxidation removal            454 x 6.40    2905.60
    prep polish                  454 x 3.10    1407.40
    protective coating           454 x 4.85    2201.90
    net                                        6754.90
    tax, 8.25 % together           557.27925    557.28
        state, 6.25 parts of 8.25  422.18182    422.18
        local, the rest                         135.10
    gross                                      7312.18

Hours                      kit, 24.50          sam, 55.00 (the owner)      overhead, 9.50
    18 May       3 + 4   = 7     171.50        4.5    247.50               11.5   109.25
    19 May       4 (14 struck)    98.00        9      495.00               13     123.50
    20 May       6.5             159.25        6      330.00               12.5   118.75
    21 May                                     7      385.00                7      66.50
    in all      17.5             428.75       26.5   1457.50               44     418.00

Material                                       share of the lot, half up
    soap       12 of 128 fl oz for  38.40        3.60
    compound   17 of  64 fl oz for 118.00       31.34    (31.34375)
    compound   29 of  64 fl oz for 118.00       53.47    (53.46875)
    polish     18 of  32 fl oz for  61.00       34.31    (34.3125)
    ceramic   415 of 500 mL    for 365.00      302.95
    used                                       425.67
    bought   38.40 + 118.00 + 61.00 + 365.00   582.40
    left                                       156.73

Expenses    46 mi x 0.70 = 32.20, hangar 85.00 = 117.20

Profit
    6754.90 - 425.67 - 428.75 - 117.20 =      5783.28    before the owner's own hours; cost 971.62
    5783.28 - 1457.50 - 418.00 =              3907.78    which is 0.57851 of 6754.90
Paid        4000.00 on 2 June, 3312.18 after May was closed
Upkeep      coated on 21 May: wash every 6 months, 14 days of grace; inspection every 12 months, 30 days of grace;
            windows open 30 days before
"""

INVOICE = {
    "number": "2026-0001",
    "date": "2026-05-22",
    "due": "2026-06-05",
    "customer": "dell",
    "job": 1,
    "mark": "N123AB",
    "currency": "USD",
    "net": "6754.90",
    "tax": "557.28",
    "gross": "7312.18",
    "owed": "0.00",
    "state": "settled",
}
LINES = (  # text begins with, quantity, unit, price, net
    ("Decontamination wash", "1", "each", "240.00", "240.00"),
    ("Oxidation removal", "454", "ft2", "6.40", "2905.60"),
    ("Prep polish", "454", "ft2", "3.10", "1407.40"),
    ("Protective coating", "454", "ft2", "4.85", "2201.90"),
)
TAXES = (
    {"name": "State sales tax", "rate": "0.0625", "base": "6754.90", "amount": "422.18"},
    {"name": "Local sales tax", "rate": "0.02", "base": "6754.90", "amount": "135.10"},
)
TAX_BY_PLACE = [
    {"place": "US-TX", "base": "6754.90", "amount": "422.18"},
    {"place": "US-TX-MESAALTA", "base": "6754.90", "amount": "135.10"},
]
FIGURES = {
    "revenue": "6754.90",
    "materials": "425.67",
    "labor": "428.75",
    "expenses": "117.20",
    "overhead": "418.00",
    "profit_before_owner": "5783.28",
    "owner_labor": "1457.50",
    "profit": "3907.78",
    "margin": "0.5785",
    "hours": "44",
}
COST = "971.62"
MONTHS = [
    {
        "month": "2026-05",
        "revenue": "6754.90",
        "cost": COST,
        "profit_before_owner": "5783.28",
        "profit": "3907.78",
    }
]
SURFACES = ("left wing", "right wing", "fuselage", "tail")
WASH = {"item": "decontamination wash", "opens": "2026-10-22", "due": "2026-11-21", "closes": "2026-12-05"}
INSPECTION = {"item": "inspection", "opens": "2027-04-21", "due": "2027-05-21", "closes": "2027-06-20"}
STOCK = {"soap": "34.80", "compound": "33.19", "polish": "26.69", "ceramic": "62.05"}
ON_HAND = {"soap": "116", "compound": "18", "polish": "14", "ceramic": "85"}
JOURNAL = {  # balances of May
    "Materials on the shelf": "-425.67",
    "Wages, to pay": "-428.75",
    "Expenses, to pay": "-117.20",
    "Work in progress": "0.00",
    "Owed by customers": "7312.18",
    "Tax collected, to remit": "-557.28",
    "Earned: wash": "-240.00",
    "Earned: oxidation": "-2905.60",
    "Earned: prep": "-1407.40",
    "Earned: coating": "-2201.90",
    "Cost of jobs: materials": "425.67",
    "Cost of jobs: labor": "428.75",
    "Cost of jobs: expenses": "117.20",
}
