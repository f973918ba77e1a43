"""ISO 4217 currency codes and their minor-unit digits (the ledger takes ISO's, not CLDR's)."""

from coatbook.values.refusal import Misuse

_DIGITS_OTHER_THAN_TWO = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    3: "BHD IQD JOD KWD LYD OMR TND",
    4: "CLF UYW",
}
_TWO_DIGITS = """
AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF CHW
CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS
INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN
NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC
SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XCD XCG YER ZAR ZMW ZWG
"""

_DIGITS = dict.fromkeys(_TWO_DIGITS.split(), 2) | {
    code: places for places, codes in _DIGITS_OTHER_THAN_TWO.items() for code in codes.split()
}


def digits(currency: str) -> int:
    """How many decimals the currency's minor unit has (USD 2, JPY 0, KWD 3).

    Raises:
        Misuse: not an ISO 4217 code of a currency in use.
    """
    try:
        return _DIGITS[currency]
    except KeyError:
        raise Misuse(f"{currency!r} is not an ISO 4217 currency code: write one such as USD or EUR") from None
