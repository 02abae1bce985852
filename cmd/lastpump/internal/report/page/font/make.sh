#!/usr/bin/env bash
# Makes the fonts of the page anew, from the Debian package fonts-sil-gentiumplus with
# the tools of fonttools and python3-brotli. The subset has Latin, Greek and Cyrillic
# with the letters of Central Asia; it goes by another name, because the licence
# (OFL.txt) reserves the old one.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"
from=/usr/share/fonts/truetype/gentiumplus
runes='U+0020-007E,U+00A0-017F,U+0192,U+01A0-01A1,U+01AF-01B0,U+0218-021B,U+02BB-02BC,U+02C6-02DD,U+0300-0304'
runes+=',U+0306-030C,U+0323,U+0327-0328,U+0370-03FF,U+0400-052F,U+1E80-1E85,U+1E9E,U+1EA0-1EF9,U+2010-2022,U+2026'
runes+=',U+2030,U+2032,U+2033,U+2039,U+203A,U+2044,U+20AC,U+20AE,U+20B4,U+20B8,U+20BD,U+2116,U+2122,U+2190-2193'
runes+=',U+2212,U+2248,U+2264,U+2265,U+25CB,U+25CF,U+00D7'
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for face in Regular Bold Italic; do
	pyftsubset "$from/GentiumBookPlus-$face.ttf" --unicodes="$runes" --layout-features='kern,mark,mkmk,ccmp,locl' \
		--no-hinting --output-file="$work/$face.ttf"
done
/usr/bin/python3 - "$work" <<'PYTHON'
import sys
from fontTools.ttLib import TTFont

for face in ["Regular", "Bold", "Italic"]:
    font = TTFont(f"{sys.argv[1]}/{face}.ttf", recalcTimestamp=False)
    names, copyright = font["name"], font["name"].getDebugName(0)
    names.names = []
    family = "Lastpump Page"
    for number, text in {
        0: copyright + ". Modified: a subset under another name.",
        1: family, 2: face, 3: f"{family} {face}", 4: f"{family} {face}", 5: "Version 1.0", 6: f"LastpumpPage-{face}",
        13: "This Font Software is licensed under the SIL Open Font License, Version 1.1.", 14: "https://openfontlicense.org",
    }.items():
        names.setName(text, number, 3, 1, 0x409)
    if face == "Regular":
        font.save("page-regular.ttf")  # to measure with
    font.flavor = "woff2"
    font.save(f"page-{face.lower()}.woff2")
PYTHON
