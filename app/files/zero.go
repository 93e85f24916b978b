package files

import (
	"fmt"
	"strings"

	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/program"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// zeroView is where the programs have their zeros, on a panel with side A up.
func (b *bench) zeroView() *sheet.ZeroView {
	s, r := b.Workshop.For, b.Workshop.Register
	v := &sheet.ZeroView{PanelX: s.PanelX, PanelY: s.PanelY, Board: stocks(b.Workshop)[0].thickness, Height: b.Machine.Height, Safe: s.Setup(b.Catalogue).SafeHeight}
	for i, d := range r.Dowels {
		v.Dowels[i] = d.At
	}
	at := b.Machine.Origin(program.Blank{X: v.PanelX, Y: v.PanelY, Board: v.Board}, v.Dowels)
	v.Origin = geom.Vec2{X: at.X, Y: at.Y}
	return v
}

// The panel from above and the board from the front, in plain letters.
const (
	zeroWide = 30 // signs between the panel's left and right edge
	zeroHigh = 8  // lines between its edges
)

// zeroLines draw the zeros in plain letters.
func zeroLines(v *sheet.ZeroView, u unit.System) (out []string) {
	grid := make([][]rune, zeroHigh+2)
	for j := range grid {
		grid[j] = []rune("|" + strings.Repeat(" ", zeroWide) + "|")
		if j == 0 || j == zeroHigh+1 {
			grid[j] = []rune("+" + strings.Repeat("-", zeroWide) + "+")
		}
	}
	put := func(p geom.Vec2, sign rune) (i, j int) {
		i = min(max(int(p.X/v.PanelX*(zeroWide+1)+0.5), 0), zeroWide+1)
		j = zeroHigh + 1 - min(max(int(p.Y/v.PanelY*(zeroHigh+1)+0.5), 0), zeroHigh+1)
		grid[j][i] = sign
		return i, j
	}
	for _, d := range v.Dowels {
		put(d, 'o')
	}
	i, j := put(v.Origin, '*')
	for k := 1; k < 4 && i+k+1 <= zeroWide; k++ {
		grid[j][i+k] = '>'
	}
	grid[j][min(i+4, zeroWide)] = 'X'
	for k := 1; k < 3 && j-k > 0; k++ {
		grid[j-k][i] = '^'
	}
	grid[max(j-3, 0)][i] = 'Y'
	side := []string{
		"      | |    cutter at the safe height,",
		fmt.Sprintf("      |_|    %s above the face", unit.Length(v.Safe, u)),
		"",
		" +----------------+",
		fmt.Sprintf(" | board  %-8s|", unit.Length(v.Board, u)),
		" +----------------+",
		"=======================  the bed",
	}
	at, words := 3, "  <- Z0, this face"
	if v.Height == stock.OnBed {
		at, words = 6, "   <- Z0"
	}
	side[at] += words
	for j, row := range grid {
		line := string(row)
		if j > 1 && j-2 < len(side) {
			line += "    " + side[j-2]
		}
		out = append(out, strings.TrimRight(line, " "))
	}
	return append(out, "* X0 Y0    o register dowels    seen from above, and from the front")
}
