"""Widths of the 14 standard fonts (ISO 32000-2, 9.6.2.2), which a file may use without giving any.

Figures in 1/1000 em from the Adobe core 14 AFM files (version 4.1; Copyright (c) 1985, 1987,
1989, 1990, 1997 Adobe Systems Incorporated), which "may be used, copied, and distributed for
any purpose and without charge, with or without modification". Rearranged here: only the glyphs
that a standard encoding can reach, only the widths.
"""

from dataclasses import dataclass
from typing import Final

_LATIN_GLYPHS: Final = """
    A AE Aacute Acircumflex Adieresis Agrave Aring Atilde B C Ccedilla D Delta E Eacute Ecircumflex
    Edieresis Egrave Eth Euro F G H I Iacute Icircumflex Idieresis Igrave J K L Lslash M N Ntilde O
    OE Oacute Ocircumflex Odieresis Ograve Oslash Otilde P Q R S Scaron T Thorn U Uacute Ucircumflex
    Udieresis Ugrave V W X Y Yacute Ydieresis Z Zcaron a aacute acircumflex acute adieresis ae
    agrave ampersand aring asciicircum asciitilde asterisk at atilde b backslash bar braceleft
    braceright bracketleft bracketright breve brokenbar bullet c caron ccedilla cedilla cent
    circumflex colon comma copyright currency d dagger daggerdbl degree dieresis divide dollar
    dotaccent dotlessi e eacute ecircumflex edieresis egrave eight ellipsis emdash endash equal eth
    exclam exclamdown f fi five fl florin four fraction g germandbls grave greater greaterequal
    guillemotleft guillemotright guilsinglleft guilsinglright h hungarumlaut hyphen i iacute
    icircumflex idieresis igrave j k l less lessequal logicalnot lozenge lslash m macron minus mu
    multiply n nine notequal ntilde numbersign o oacute ocircumflex odieresis oe ogonek ograve one
    onehalf onequarter onesuperior ordfeminine ordmasculine oslash otilde p paragraph parenleft
    parenright partialdiff percent period periodcentered perthousand plus plusminus q question
    questiondown quotedbl quotedblbase quotedblleft quotedblright quoteleft quoteright
    quotesinglbase quotesingle r radical registered ring s scaron section semicolon seven six slash
    space sterling summation t thorn three threequarters threesuperior tilde trademark two
    twosuperior u uacute ucircumflex udieresis ugrave underscore v w x y yacute ydieresis yen z
    zcaron zero
"""
_LATIN_NAMES: Final = _LATIN_GLYPHS.split()

_LATIN_WIDTHS: Final = {
    "Helvetica": """
        667 1000 667 667 667 667 667 667 667 722 722 722 612 667 667 667 667 667 722 556 611 778 722
        278 278 278 278 278 500 667 556 556 833 722 722 778 1000 778 778 778 778 778 778 667 778 722
        667 667 611 667 722 722 722 722 722 667 944 667 667 667 667 611 611 556 556 556 333 556 889
        556 667 556 469 584 389 1015 556 556 278 260 334 334 278 278 333 260 350 500 333 500 333 556
        333 278 278 737 556 556 556 556 400 333 584 556 333 278 556 556 556 556 556 556 1000 1000
        556 584 556 278 333 278 500 556 500 556 556 167 556 611 333 584 549 556 556 333 333 556 333
        333 222 278 278 278 278 222 500 222 584 549 584 471 222 833 333 584 556 584 556 556 549 556
        556 556 556 556 556 944 333 556 556 834 834 333 370 365 611 556 556 537 333 333 476 889 278
        278 1000 584 584 556 556 611 355 333 333 333 222 222 222 191 333 453 737 333 500 500 556 278
        556 556 278 278 556 600 278 556 556 834 333 333 1000 556 333 556 556 556 556 556 556 500 722
        500 500 500 500 556 500 500 556
    """,
    "Helvetica-Bold": """
        722 1000 722 722 722 722 722 722 722 722 722 722 612 667 667 667 667 667 722 556 611 778 722
        278 278 278 278 278 556 722 611 611 833 722 722 778 1000 778 778 778 778 778 778 667 778 722
        667 667 611 667 722 722 722 722 722 667 944 667 667 667 667 611 611 556 556 556 333 556 889
        556 722 556 584 584 389 975 556 611 278 280 389 389 333 333 333 280 350 556 333 556 333 556
        333 333 278 737 556 611 556 556 400 333 584 556 333 278 556 556 556 556 556 556 1000 1000
        556 584 611 333 333 333 611 556 611 556 556 167 611 611 333 584 549 556 556 333 333 611 333
        333 278 278 278 278 278 278 556 278 584 549 584 494 278 889 333 584 611 584 611 556 549 611
        556 611 611 611 611 944 333 611 556 834 834 333 370 365 611 611 611 556 333 333 494 889 278
        278 1000 584 584 611 611 611 474 500 500 500 278 278 278 238 389 549 737 333 556 556 556 333
        556 556 278 278 556 600 333 611 556 834 333 333 1000 556 333 611 611 611 611 611 556 556 778
        556 556 556 556 556 500 500 556
    """,
    "Times-Roman": """
        722 889 722 722 722 722 722 722 667 667 667 722 612 611 611 611 611 611 722 500 556 722 722
        333 333 333 333 333 389 722 611 611 889 722 722 722 889 722 722 722 722 722 722 556 722 667
        556 556 611 556 722 722 722 722 722 722 944 722 722 722 722 611 611 444 444 444 333 444 667
        444 778 444 469 541 500 921 444 500 278 200 480 480 333 333 333 200 350 444 333 444 333 500
        333 278 250 760 500 500 500 500 400 333 564 500 333 278 444 444 444 444 444 500 1000 1000
        500 564 500 333 333 333 556 500 556 500 500 167 500 500 333 564 549 500 500 333 333 500 333
        333 278 278 278 278 278 278 500 278 564 549 564 471 278 778 333 564 500 564 500 500 549 500
        500 500 500 500 500 722 333 500 500 750 750 300 276 310 500 500 500 453 333 333 476 833 250
        250 1000 564 564 500 444 444 408 444 444 444 333 333 333 180 333 453 760 333 389 389 500 278
        500 500 278 250 500 600 278 500 500 750 300 333 980 500 300 500 500 500 500 500 500 500 722
        500 500 500 500 500 444 444 500
    """,
    "Times-Bold": """
        722 1000 722 722 722 722 722 722 667 722 722 722 612 667 667 667 667 667 722 500 611 778 778
        389 389 389 389 389 500 778 667 667 944 722 722 778 1000 778 778 778 778 778 778 611 778 722
        556 556 667 611 722 722 722 722 722 722 1000 722 722 722 722 667 667 500 500 500 333 500 722
        500 833 500 581 520 500 930 500 556 278 220 394 394 333 333 333 220 350 444 333 444 333 500
        333 333 250 747 500 556 500 500 400 333 570 500 333 278 444 444 444 444 444 500 1000 1000
        500 570 500 333 333 333 556 500 556 500 500 167 500 556 333 570 549 500 500 333 333 556 333
        333 278 278 278 278 278 333 556 278 570 549 570 494 278 833 333 570 556 570 556 500 549 556
        500 500 500 500 500 722 333 500 500 750 750 300 300 330 500 500 556 540 333 333 494 1000 250
        250 1000 570 570 556 500 500 555 500 500 500 333 333 333 278 444 549 747 333 389 389 500 333
        500 500 278 250 500 600 333 556 500 750 300 333 1000 500 300 556 556 556 556 556 500 500 722
        500 500 500 500 500 444 444 500
    """,
    "Times-Italic": """
        611 889 611 611 611 611 611 611 611 667 667 722 612 611 611 611 611 611 722 500 611 722 722
        333 333 333 333 333 444 667 556 556 833 667 667 722 944 722 722 722 722 722 722 611 722 611
        500 500 556 611 722 722 722 722 722 611 833 611 556 556 556 556 556 500 500 500 333 500 667
        500 778 500 422 541 500 920 500 500 278 275 400 400 389 389 333 275 350 444 333 444 333 500
        333 333 250 760 500 500 500 500 400 333 675 500 333 278 444 444 444 444 444 500 889 889 500
        675 500 333 389 278 500 500 500 500 500 167 500 500 333 675 549 500 500 333 333 500 333 333
        278 278 278 278 278 278 444 278 675 549 675 471 278 722 333 675 500 675 500 500 549 500 500
        500 500 500 500 667 333 500 500 750 750 300 276 310 500 500 500 523 333 333 476 833 250 250
        1000 675 675 500 500 500 420 556 556 556 333 333 333 214 389 453 760 333 389 389 500 333 500
        500 278 250 500 600 278 500 500 750 300 333 980 500 300 500 500 500 500 500 500 444 667 444
        444 444 444 500 389 389 500
    """,
    "Times-BoldItalic": """
        667 944 667 667 667 667 667 667 667 667 667 722 612 667 667 667 667 667 722 500 667 722 778
        389 389 389 389 389 500 667 611 611 889 722 722 722 944 722 722 722 722 722 722 611 722 667
        556 556 611 611 722 722 722 722 722 667 889 667 611 611 611 611 611 500 500 500 333 500 722
        500 778 500 570 570 500 832 500 500 278 220 348 348 333 333 333 220 350 444 333 444 333 500
        333 333 250 747 500 500 500 500 400 333 570 500 333 278 444 444 444 444 444 500 1000 1000
        500 570 500 389 389 333 556 500 556 500 500 167 500 500 333 570 549 500 500 333 333 556 333
        333 278 278 278 278 278 278 500 278 570 549 606 494 278 778 333 606 576 570 556 500 549 556
        500 500 500 500 500 722 333 500 500 750 750 300 266 300 500 500 500 500 333 333 494 833 250
        250 1000 570 570 500 500 500 555 500 500 500 333 333 333 278 389 549 747 333 389 389 500 333
        500 500 278 250 500 600 278 500 500 750 300 333 1000 500 300 556 556 556 556 556 500 444 667
        500 444 444 444 500 389 389 500
    """,
}
_SYMBOL: Final = """
    32:space:250 33:exclam:333 34:universal:713 35:numbersign:500 36:existential:549 37:percent:833
    38:ampersand:778 39:suchthat:439 40:parenleft:333 41:parenright:333 42:asteriskmath:500
    43:plus:549 44:comma:250 45:minus:549 46:period:250 47:slash:278 48:zero:500 49:one:500
    50:two:500 51:three:500 52:four:500 53:five:500 54:six:500 55:seven:500 56:eight:500 57:nine:500
    58:colon:278 59:semicolon:278 60:less:549 61:equal:549 62:greater:549 63:question:444
    64:congruent:549 65:Alpha:722 66:Beta:667 67:Chi:722 68:Delta:612 69:Epsilon:611 70:Phi:763
    71:Gamma:603 72:Eta:722 73:Iota:333 74:theta1:631 75:Kappa:722 76:Lambda:686 77:Mu:889 78:Nu:722
    79:Omicron:722 80:Pi:768 81:Theta:741 82:Rho:556 83:Sigma:592 84:Tau:611 85:Upsilon:690
    86:sigma1:439 87:Omega:768 88:Xi:645 89:Psi:795 90:Zeta:611 91:bracketleft:333 92:therefore:863
    93:bracketright:333 94:perpendicular:658 95:underscore:500 96:radicalex:500 97:alpha:631
    98:beta:549 99:chi:549 100:delta:494 101:epsilon:439 102:phi:521 103:gamma:411 104:eta:603
    105:iota:329 106:phi1:603 107:kappa:549 108:lambda:549 109:mu:576 110:nu:521 111:omicron:549
    112:pi:549 113:theta:521 114:rho:549 115:sigma:603 116:tau:439 117:upsilon:576 118:omega1:713
    119:omega:686 120:xi:493 121:psi:686 122:zeta:494 123:braceleft:480 124:bar:200
    125:braceright:480 126:similar:549 160:Euro:750 161:Upsilon1:620 162:minute:247
    163:lessequal:549 164:fraction:167 165:infinity:713 166:florin:500 167:club:753 168:diamond:753
    169:heart:753 170:spade:753 171:arrowboth:1042 172:arrowleft:987 173:arrowup:603
    174:arrowright:987 175:arrowdown:603 176:degree:400 177:plusminus:549 178:second:411
    179:greaterequal:549 180:multiply:549 181:proportional:713 182:partialdiff:494 183:bullet:460
    184:divide:549 185:notequal:549 186:equivalence:549 187:approxequal:549 188:ellipsis:1000
    189:arrowvertex:603 190:arrowhorizex:1000 191:carriagereturn:658 192:aleph:823 193:Ifraktur:686
    194:Rfraktur:795 195:weierstrass:987 196:circlemultiply:768 197:circleplus:768 198:emptyset:823
    199:intersection:768 200:union:768 201:propersuperset:713 202:reflexsuperset:713
    203:notsubset:713 204:propersubset:713 205:reflexsubset:713 206:element:713 207:notelement:713
    208:angle:768 209:gradient:713 210:registerserif:790 211:copyrightserif:790
    212:trademarkserif:890 213:product:823 214:radical:549 215:dotmath:250 216:logicalnot:713
    217:logicaland:603 218:logicalor:603 219:arrowdblboth:1042 220:arrowdblleft:987
    221:arrowdblup:603 222:arrowdblright:987 223:arrowdbldown:603 224:lozenge:494 225:angleleft:329
    226:registersans:790 227:copyrightsans:790 228:trademarksans:786 229:summation:713
    230:parenlefttp:384 231:parenleftex:384 232:parenleftbt:384 233:bracketlefttp:384
    234:bracketleftex:384 235:bracketleftbt:384 236:bracelefttp:494 237:braceleftmid:494
    238:braceleftbt:494 239:braceex:494 241:angleright:329 242:integral:274 243:integraltp:686
    244:integralex:686 245:integralbt:686 246:parenrighttp:384 247:parenrightex:384
    248:parenrightbt:384 249:bracketrighttp:384 250:bracketrightex:384 251:bracketrightbt:384
    252:bracerighttp:494 253:bracerightmid:494 254:bracerightbt:494 -1:apple:790
"""
_DINGBATS: Final = """
    32:space:278 33:a1:974 34:a2:961 35:a202:974 36:a3:980 37:a4:719 38:a5:789 39:a119:790
    40:a118:791 41:a117:690 42:a11:960 43:a12:939 44:a13:549 45:a14:855 46:a15:911 47:a16:933
    48:a105:911 49:a17:945 50:a18:974 51:a19:755 52:a20:846 53:a21:762 54:a22:761 55:a23:571
    56:a24:677 57:a25:763 58:a26:760 59:a27:759 60:a28:754 61:a6:494 62:a7:552 63:a8:537 64:a9:577
    65:a10:692 66:a29:786 67:a30:788 68:a31:788 69:a32:790 70:a33:793 71:a34:794 72:a35:816
    73:a36:823 74:a37:789 75:a38:841 76:a39:823 77:a40:833 78:a41:816 79:a42:831 80:a43:923
    81:a44:744 82:a45:723 83:a46:749 84:a47:790 85:a48:792 86:a49:695 87:a50:776 88:a51:768
    89:a52:792 90:a53:759 91:a54:707 92:a55:708 93:a56:682 94:a57:701 95:a58:826 96:a59:815
    97:a60:789 98:a61:789 99:a62:707 100:a63:687 101:a64:696 102:a65:689 103:a66:786 104:a67:787
    105:a68:713 106:a69:791 107:a70:785 108:a71:791 109:a72:873 110:a73:761 111:a74:762 112:a203:762
    113:a75:759 114:a204:759 115:a76:892 116:a77:892 117:a78:788 118:a79:784 119:a81:438 120:a82:138
    121:a83:277 122:a84:415 123:a97:392 124:a98:392 125:a99:668 126:a100:668 128:a89:390 129:a90:390
    130:a93:317 131:a94:317 132:a91:276 133:a92:276 134:a205:509 135:a85:509 136:a206:410
    137:a86:410 138:a87:234 139:a88:234 140:a95:334 141:a96:334 161:a101:732 162:a102:544
    163:a103:544 164:a104:910 165:a106:667 166:a107:760 167:a108:760 168:a112:776 169:a111:595
    170:a110:694 171:a109:626 172:a120:788 173:a121:788 174:a122:788 175:a123:788 176:a124:788
    177:a125:788 178:a126:788 179:a127:788 180:a128:788 181:a129:788 182:a130:788 183:a131:788
    184:a132:788 185:a133:788 186:a134:788 187:a135:788 188:a136:788 189:a137:788 190:a138:788
    191:a139:788 192:a140:788 193:a141:788 194:a142:788 195:a143:788 196:a144:788 197:a145:788
    198:a146:788 199:a147:788 200:a148:788 201:a149:788 202:a150:788 203:a151:788 204:a152:788
    205:a153:788 206:a154:788 207:a155:788 208:a156:788 209:a157:788 210:a158:788 211:a159:788
    212:a160:894 213:a161:838 214:a163:1016 215:a164:458 216:a196:748 217:a165:924 218:a192:748
    219:a166:918 220:a167:927 221:a168:928 222:a169:928 223:a170:834 224:a171:873 225:a172:828
    226:a173:924 227:a162:924 228:a174:917 229:a175:930 230:a176:931 231:a177:463 232:a178:883
    233:a179:836 234:a193:836 235:a180:867 236:a199:867 237:a181:696 238:a200:696 239:a182:874
    241:a201:874 242:a183:760 243:a184:946 244:a197:771 245:a185:865 246:a194:771 247:a198:888
    248:a186:967 249:a195:888 250:a187:831 251:a188:873 252:a189:927 253:a190:970 254:a191:918
"""


@dataclass(frozen=True, slots=True)
class CoreFont:
    """One standard font: widths by glyph name, its built-in encoding, and its extents, all in em."""

    widths: dict[str, float]
    encoding: dict[int, str] | None  # None: StandardEncoding
    ascent_em: float
    descent_em: float


def _latin(key: str, ascent: float, descent: float) -> CoreFont:
    figures = _LATIN_WIDTHS[key].split()
    widths = {name: int(width) / 1000 for name, width in zip(_LATIN_NAMES, figures, strict=True)}
    return CoreFont(widths, None, ascent, descent)


def _pictorial(table: str, ascent: float, descent: float) -> CoreFont:
    rows = [row.split(":") for row in table.split()]
    widths = {name: int(width) / 1000 for _, name, width in rows}
    return CoreFont(widths, {int(code): name for code, name, _ in rows if code != "-1"}, ascent, descent)


_COURIER: Final = CoreFont(dict.fromkeys(_LATIN_NAMES, 0.6), None, 0.629, -0.157)
_HELVETICA: Final = _latin("Helvetica", 0.718, -0.207)
_HELVETICA_BOLD: Final = _latin("Helvetica-Bold", 0.718, -0.207)

# Ascender and Descender of the AFM files; Symbol and ZapfDingbats have none, their FontBBox stands in.
CORE_FONTS: Final = {
    "Courier": _COURIER,
    "Courier-Bold": _COURIER,
    "Courier-Oblique": _COURIER,
    "Courier-BoldOblique": _COURIER,
    "Helvetica": _HELVETICA,
    "Helvetica-Bold": _HELVETICA_BOLD,
    "Helvetica-Oblique": _HELVETICA,
    "Helvetica-BoldOblique": _HELVETICA_BOLD,
    "Times-Roman": _latin("Times-Roman", 0.683, -0.217),
    "Times-Bold": _latin("Times-Bold", 0.683, -0.217),
    "Times-Italic": _latin("Times-Italic", 0.683, -0.217),
    "Times-BoldItalic": _latin("Times-BoldItalic", 0.683, -0.217),
    "Symbol": _pictorial(_SYMBOL, 1.010, -0.293),
    "ZapfDingbats": _pictorial(_DINGBATS, 0.820, -0.143),
}

# Names under which office programs write the standard fonts without embedding them; the
# families are metrically the same by design (common practice).
_FAMILIES: Final = {
    "arial": "Helvetica", "arialmt": "Helvetica", "helvetica": "Helvetica",
    "timesnewroman": "Times", "timesnewromanps": "Times", "timesnewromanpsmt": "Times", "times": "Times",
    "couriernew": "Courier", "couriernewps": "Courier", "couriernewpsmt": "Courier", "courier": "Courier",
}  # fmt: skip


def core_font(name: str) -> CoreFont | None:
    """The standard font that `name` means, subset prefix left off; None for any other font."""
    plain = name.rpartition("+")[2].replace(" ", "")
    if plain in CORE_FONTS:
        return CORE_FONTS[plain]
    family, _, style = plain.replace(",", "-").lower().partition("-")
    base = _FAMILIES.get(family)
    if base is None:
        return None
    bold, slanted = "bold" in style, "italic" in style or "oblique" in style
    if base == "Times":
        return CORE_FONTS[
            ("Times-Roman", "Times-Italic", "Times-Bold", "Times-BoldItalic")[2 * bold + slanted]
        ]
    return CORE_FONTS[f"{base}-Bold" if bold else base]
