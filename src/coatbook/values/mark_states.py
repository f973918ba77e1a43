"""What the registration marks of each state look like.

Basis: ICAO Annex 7 and the marks that states notify for its Supplement, as practiced; neither was at hand. Each pattern
is written from memory and was compared by eye with two open lists (vradarserver/standing-data, reg-prefixes.csv, and
Collen-Roller/flydenity, processed_itu_countries.csv). Forms that the second list names and memory did not were added;
the first mostly allows letters or digits anywhere, and there the narrower form known from memory stands. A state whose
forms are not known well enough is left out: its marks are kept with a warning. The US rule is law and exact.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Pattern:
    """The marks of one state under one prefix: what follows the prefix, as a pattern and in words."""

    prefix: str
    state: str
    suffix: re.Pattern[str]
    words: str
    hyphen: bool = True

    def text(self, suffix: str) -> str:
        """The mark as it is painted."""
        return f"{self.prefix}{'-' if self.hyphen else ''}{suffix}"


# three letters and nothing else
_THREE_LETTERS = """
3A Monaco; 3B Mauritius; 3DC Eswatini; 4O Montenegro; 4R Sri Lanka; 4W Timor-Leste; 4X Israel; 5A Libya; 5B Cyprus;
5H Tanzania; 5N Nigeria; 5R Madagascar; 5T Mauritania; 5U Niger; 5V Togo; 5W Samoa; 5X Uganda; 5Y Kenya; 6O Somalia;
6V Senegal; 6W Senegal; 6Y Jamaica; 7O Yemen; 7P Lesotho; 7Q Malawi; 8P Barbados; 8Q Maldives; 8R Guyana; 9A Croatia;
9G Ghana; 9J Zambia; 9K Kuwait; 9L Sierra Leone; 9M Malaysia; 9N Nepal; 9Q DR Congo; 9S DR Congo; 9U Burundi;
9V Singapore; 9Y Trinidad and Tobago; A2 Botswana; A3 Tonga; A5 Bhutan; A7 Qatar; A8 Liberia; AP Pakistan; C2 Nauru;
C3 Andorra; C5 Gambia; C6 Bahamas; C9 Mozambique; CC Chile; CN Morocco; CR Portugal; CS Portugal; CX Uruguay; D2 Angola;
D4 Cabo Verde; D6 Comoros; DQ Fiji; E4 Palestine; E5 Cook Islands; E7 Bosnia and Herzegovina; EI Ireland; EP Iran;
ES Estonia; ET Ethiopia; H4 Solomon Islands; HC Ecuador; HH Haiti; HR Honduras; HS Thailand; J2 Djibouti; J3 Grenada;
J5 Guinea-Bissau; J6 Saint Lucia; J7 Dominica; J8 Saint Vincent; LN Norway; LQ Argentina; LX Luxembourg; LY Lithuania;
LZ Bulgaria; OD Lebanon; P2 Papua New Guinea; P4 Aruba; PJ Curaçao and Sint Maarten; PP Brazil; PR Brazil; PS Brazil;
PT Brazil; PU Brazil; PZ Suriname; S2 Bangladesh; S7 Seychelles; S9 São Tomé and Príncipe; ST Sudan; T2 Tuvalu;
T3 Kiribati; T8 Palau; TC Türkiye; TG Guatemala; TJ Cameroon; TL Central African Republic; TN Congo; TR Gabon;
TS Tunisia; TT Chad; TU Côte d'Ivoire; TY Benin; TZ Mali; V2 Antigua and Barbuda; V3 Belize; V4 Saint Kitts and Nevis;
V5 Namibia; V6 Micronesia; VT India; XA Mexico; XB Mexico; XC Mexico; XT Burkina Faso; XY Myanmar; XZ Myanmar;
YA Afghanistan; YK Syria; YN Nicaragua; Z Zimbabwe; Z6 Kosovo; Z8 South Sudan; ZA Albania; ZJ Jersey; ZK New Zealand;
ZP Paraguay; ZS South Africa; ZT South Africa; ZU South Africa
"""

# prefix | state | what follows it | the same in words. In the third column a stands for a letter, d for a digit, x for
# either, a space parts alternatives, and the rest is a regular expression; ~ marks a prefix written without a hyphen.
_OTHER = """
2|Guernsey|aaaa|four letters
4K|Azerbaijan|x{3,5}|three to five letters or digits
4L|Georgia|aaa d{5}|three letters or five digits
7T|Algeria|[VW]aa|V or W and two letters
9H|Malta|aaax{0,2}|three letters, with up to two more letters or digits
9XR|Rwanda|aa|two letters
A4O|Oman|a{2,3}|two or three letters
A6|United Arab Emirates|axx|a letter and two letters or digits
A9C|Bahrain|a{2,4}|two to four letters
B|China|ddxx|two digits and two letters or digits
B|Hong Kong|[HKL]aa|H, K or L and two letters
B|Macau|Maa|M and two letters
B|Taiwan|d{5}|five digits
C|Canada|[FGI]aaa|F, G or I and three letters
CP|Bolivia|d{3,4}|three or four digits
CU|Cuba|adddd|a letter and four digits
D|Germany|[A-PR-Z]aaa dddd|four letters, or four digits for a glider
EC|Spain|aaa aad ddd|three letters, two letters and a digit, or three digits
EJ|Ireland|aaaa|four letters
EK|Armenia|d{5}|five digits
ER|Moldova|aaa d{5}|three letters or five digits
EW|Belarus|dddaa dddda d{5}|three digits and two letters, four digits and a letter, or five digits
EX|Kyrgyzstan|d{3,5}|three to five digits
EY|Tajikistan|d{3,5}|three to five digits
EZ|Turkmenistan|addd|a letter and three digits
F|France|aaaa|four letters
G|United Kingdom|aaaa|four letters
HA|Hungary|a{3,4} d{3,4}|three or four letters, or three or four digits
HB|Switzerland or Liechtenstein|aaa d{1,4}|three letters, or up to four digits for a glider
HJ|Colombia|d{3,4}a?|three or four digits, with or without a letter
HK|Colombia|d{3,4}a?|three or four digits, with or without a letter
~HL|South Korea|dddd Cddd|four digits, or C and three digits
HP|Panama|d{2,4}a{0,4}|two to four digits, with up to four letters
HZ|Saudi Arabia|x{2,5}|two to five letters or digits
I|Italy|aaaa xddd|four letters, or a letter or digit and three digits
~JA|Japan|dddd ddda ddaa Addd|four digits, or two or three digits and letters, or A and three digits
JU|Mongolia|dddd|four digits
JY|Jordan|a{3,4}|three or four letters
LV|Argentina|aaa [SUX]ddd|three letters, or S, U or X and three digits
M|Isle of Man|aaaa|four letters
OB|Peru|d{3,4}a?|three or four digits, with or without a letter
OE|Austria|aaa dddd|three letters, or four digits for a glider
OH|Finland|aaa d{3,4} [GU]ddd|three letters, three or four digits, or G or U and three digits
OK|Czechia|aaa aaadd dddd Addd Xddda|three letters, three letters and two digits, or four digits
OM|Slovakia|a{3,4} Mddd dddd|three or four letters, M and three digits, or four digits
OO|Belgium|aaa d{2,3} add|three letters, two or three digits, or a letter and two digits
OY|Denmark|aaa d{2,4}|three letters, or two to four digits
P|North Korea|ddd|three digits
PH|Netherlands|aaa d{3,4} dad daa|three letters, three or four digits, or a digit, a letter and a letter or digit
PK|Indonesia|aaa Sddd|three letters, or S and three digits
RA|Russia|d{5} dddda|five digits, or four digits and a letter
RDPL|Laos|d{5}|five digits
RF|Russia|d{5}|five digits
RP|Philippines|[CGRSUX]?d{3,4} Uddda|three or four digits, with or without C, G, R, S, U or X before them
S5|Slovenia|aaa dddd|three letters, or four digits for a glider
SE|Sweden|aaa add|three letters, or a letter and two digits
SN|Poland|aaa ddaa|three letters, or two digits and two letters
SP|Poland|a{3,4} dddd|three or four letters, or four digits
SU|Egypt|aaa ddd|three letters or three digits
SX|Greece|aaa ddd|three letters or three digits
T7|San Marino|x{3,5}|three to five letters or digits
TF|Iceland|aaa ddd|three letters or three digits
TI|Costa Rica|aaa ddd|three letters or three digits
~UK|Uzbekistan|d{5}|five digits
UP|Kazakhstan|adddd aaddd aaadd|one to three letters and then digits, five in all
UR|Ukraine|a{3,4} d{5}|three or four letters, or five digits
V7|Marshall Islands|dddd|four digits
V8|Brunei|aaa aad ddd|three letters, two letters and a digit, or three digits
VH|Australia|aaa aad ada daa add dad dda|three letters or digits, one of them a letter
VN|Vietnam|addd dddd|a letter and three digits, or four digits
VP|Anguilla|Aaa|A and two letters
VP|Bermuda|Baa|B and two letters
VP|Cayman Islands|Caa|C and two letters
VP|Falkland Islands|Faa|F and two letters
VP|Gibraltar|Gaa|G and two letters
VP|British Virgin Islands|Laa|L and two letters
VP|Montserrat|Maa|M and two letters
VQ|Bermuda|Baa|B and two letters
VQ|Saint Helena|Haa|H and two letters
VQ|Turks and Caicos Islands|Taa|T and two letters
XU|Cambodia|aaa ddd|three letters or three digits
YI|Iraq|xxx|three letters or digits
YJ|Vanuatu|a{2,3}d{0,2}|two or three letters, with up to two digits
YL|Latvia|aaa ddd|three letters or three digits
YR|Romania|aaa dddd Ddddd|three letters, four digits, or D and four digits
YU|Serbia|aaa dddd addd Ddddd|three letters, four digits, a letter and three digits, or D and four digits
~YV|Venezuela|d{3,4}a? Oddd|three or four digits, with or without a letter, or O and three digits
Z3|North Macedonia|aaa UAddd|three letters, or UA and three digits
"""

# 14 CFR 47.15: no leading zero, no letter I or O, five characters at most, letters last
_UNITED_STATES = Pattern(
    prefix="N",
    state="United States",
    suffix=re.compile(r"[1-9](?:[0-9]{0,4}|[0-9]{0,3}[A-HJ-NP-Z]|[0-9]{0,2}[A-HJ-NP-Z]{2})"),
    words="1 to 5 digits, up to 4 digits and a letter, or up to 3 digits and two letters",
    hyphen=False,
)


def _regular_expression(forms: str) -> re.Pattern[str]:
    classes = {"a": "[A-Z]", "d": "[0-9]", "x": "[0-9A-Z]", " ": "|"}
    return re.compile("".join(classes.get(character, character) for character in forms))


def _read() -> Iterator[Pattern]:
    yield _UNITED_STATES
    for entry in _THREE_LETTERS.split(";"):
        prefix, state = entry.split(maxsplit=1)
        yield Pattern(prefix, state, _regular_expression("aaa"), "three letters")
    for row in _OTHER.strip().splitlines():
        prefix, state, forms, words = row.split("|")
        yield Pattern(prefix.lstrip("~"), state, _regular_expression(forms), words, hyphen=not prefix.startswith("~"))


def _by_prefix() -> dict[str, tuple[Pattern, ...]]:
    found: dict[str, tuple[Pattern, ...]] = {}
    for pattern in _read():
        found[pattern.prefix] = (*found.get(pattern.prefix, ()), pattern)
    return found


PATTERNS = _by_prefix()
LONGEST_PREFIX = max(map(len, PATTERNS))
