#!/bin/sh
# Makes the small pictures of the page "The job in ten steps" anew, from the demo piece. Needs ImageMagick and Python.
set -e
cd "$(dirname "$0")/.."
to=$(pwd)/assets/steps
font=$(pwd)/assets/fonts/Lato-Regular.ttf
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
go build -tags migrated_fynedo -o "$work/grainstack" ./cmd/grainstack
cd "$work"
./grainstack sample -o hare.stl
# a scan with a hole in its flank: what lies in a ball is left out
python3 - <<'PY'
import struct
data = open('hare.stl', 'rb').read()
n = struct.unpack('<I', data[80:84])[0]
points = [struct.unpack('<9f', data[84+50*i+12:84+50*i+48]) for i in range(n)]
low = [min(p[k::3][j] for p in points for j in range(3)) for k in range(3)]
high = [max(p[k::3][j] for p in points for j in range(3)) for k in range(3)]
at = [low[0]+0.3*(high[0]-low[0]), low[1], low[2]+0.42*(high[2]-low[2])]
r = 0.2*(high[2]-low[2])
kept = [data[84+50*i:134+50*i] for i, p in enumerate(points) if sum((p[k]-at[k])**2 for k in range(3)) > r*r]
open('torn.stl', 'wb').write(data[:80] + struct.pack('<I', len(kept)) + b''.join(kept))
PY
./grainstack picture hare.stl -view finished -o finished.png
./grainstack picture torn.stl -mend off -view finished -o torn.png
./grainstack picture hare.stl -view finished -turn 0,-35,0 -o turned.png
./grainstack picture hare.stl -view finished -marks -o marks.png
./grainstack picture hare.stl -view stick -o stick.png
./grainstack make hare.stl -out w -only pictures
small() { # picture name crop
	convert "$1" $3 -resize 264x184^ -gravity center -extent 264x184 -colors 64 -strip "PNG8:$to/$2.png"
}
mkdir -p "$to"
small finished.png scan
convert finished.png -stroke '#29241f' -strokewidth 3 -draw 'line 130,140 130,610 line 118,140 142,140 line 118,610 142,610' \
	-stroke none -fill '#29241f' -font "$font" -pointsize 44 -annotate +20+385 '300?' size-whole.png
small size-whole.png size
small torn.png mend '-gravity center -crop 700x490+0+20 +repage'
small turned.png stand
small stick.png board '-gravity center -crop 100%x30%+0+0 +repage'
small w/pictures/layer-08.png wall '-trim +repage'
small finished.png look '-gravity center -crop 420x300+60-40 +repage'
small marks.png reach '-gravity center -crop 600x440+40+20 +repage'
small w/pictures/panel-01.png panels '-trim +repage'
small w/pictures/glue-up.png glue '-trim +repage'
