package proof

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	"grainstack/slicing/stock"
)

// A spoiling is a way to spoil sound programs.
type spoiling struct {
	t        *testing.T
	w        *Wanted
	l        Limits
	writes   program.Machine // that the programs are written for
	m        program.Machine // that they are run on
	programs []program.Program
	texts    map[int]func(text []byte) []byte // of files, after they are written
	parts    func(all []Written)              // what else is done to them then
}

// The programs by their places.
const (
	holesA = iota
	roughA
	roughB
	finishB
	finishA
	freeA // where there is one
)

// cutting finds the n-th cutting move of a program that a condition holds for.
func (s *spoiling) cutting(in, n int, holds func(from, to geom.Vec) bool) int {
	s.t.Helper()
	for i := 1; i < len(s.programs[in].Moves); i++ {
		m := s.programs[in].Moves[i]
		if m.FeedMmMin > 0 && holds(s.programs[in].Moves[i-1].To, m.To) {
			if n--; n < 0 {
				return i
			}
		}
	}
	s.t.Fatal("no such move")
	return 0
}

// overPart holds for moves over the middle of the part.
func overPart(_, to geom.Vec) bool { return math.Hypot(to.X-midX, to.Y-midY) < 10 }

// text changes a file once it is written.
func (s *spoiling) text(in int, change func(string) string) {
	s.texts[in] = func(b []byte) []byte { return []byte(change(string(b))) }
}

// lines changes the lines of a file after its head.
func (s *spoiling) lines(in int, change func(lines []string) []string) {
	s.text(in, func(text string) string {
		return strings.Join(change(strings.Split(text, "\n")), "\n")
	})
}

// insert puts moves at the end of a program: to a place at the safe height, down, along, and up.
func (s *spoiling) insert(in int, at ...geom.Vec) {
	p := &s.programs[in]
	moves := []program.Move{{To: geom.Vec{X: at[0].X, Y: at[0].Y, Z: safe}}}
	for _, v := range at {
		moves = append(moves, program.Move{To: v, FeedMmMin: 500})
	}
	last := at[len(at)-1]
	moves = append(moves, program.Move{To: geom.Vec{X: last.X, Y: last.Y, Z: safe}})
	p.Moves = append(p.Moves, moves...)
}

// arc is a cut round the middle of the part at a height, from one angle to another, clear of it and of the tabs.
func arc(z float64) (from, to geom.Vec, m program.Move) {
	const r = 18 + 6.35/2 + 0.5
	sin, cos := math.Sincos(40 * math.Pi / 180)
	from, to = geom.Vec{X: midX + r*cos, Y: midY - r*sin, Z: z}, geom.Vec{X: midX + r*cos, Y: midY + r*sin, Z: z}
	return from, to, program.Move{To: to, FeedMmMin: 500, Turn: program.CounterClockwise, Middle: geom.Vec2{X: midX, Y: midY}}
}

// round puts an arc beside the part at the end of the rough pass, changed as told.
func (s *spoiling) round(change func(m *program.Move, from geom.Vec)) {
	from, _, m := arc(-6)
	if change != nil {
		change(&m, from)
	}
	s.insert(roughA, from)
	p := &s.programs[roughA]
	end := len(p.Moves) - 1
	p.Moves = append(p.Moves[:end:end], m, program.Move{To: geom.Vec{X: m.To.X, Y: m.To.Y, Z: safe}})
}

// frees adds a program that cuts both tabs down to a height above the bed, 1 mm above where they begin if nothing is spoilt.
func (s *spoiling) frees(z, beyond float64) {
	s.l.TabLeft = 1
	p := s.programs[finishA]
	p.Name, p.Step, p.Moves = "panel-01-6-A-free.nc", program.Free, nil
	s.programs = append(s.programs, p)
	for _, y := range []float64{midY + 18 + 4.2, midY - 18 - 4.2} {
		for high := 7.0; high > z; high -= 0.5 {
			s.insert(freeA, geom.Vec{X: midX - 4.6 - beyond, Y: y, Z: high - boardThick}, geom.Vec{X: midX + 4.6 + beyond, Y: y, Z: high - boardThick})
		}
		s.insert(freeA, geom.Vec{X: midX - 4.6 - beyond, Y: y, Z: z - boardThick}, geom.Vec{X: midX + 4.6 + beyond, Y: y, Z: z - boardThick})
	}
}

// inParts lets the controller take small files, and changes which of them are run.
func (s *spoiling) inParts(in int, change func(parts []program.File) []program.File) {
	s.m.MostLines, s.writes.MostLines = 2000, 2000
	s.parts = func(all []Written) {
		was := len(all[in].Files)
		if was < 3 {
			s.t.Fatalf("%d parts", was)
		}
		all[in].Files = change(all[in].Files)
	}
}

func shift(d geom.Vec, m []program.Move) {
	for i := range m {
		m[i].To = m[i].To.Add(d)
	}
}

// keepRows drops the moves of rows that don't fit.
func keepRows(p *program.Program, fits func(y float64) bool) {
	var out []program.Move
	for _, m := range p.Moves {
		if fits(m.To.Y) {
			out = append(out, m)
		}
	}
	p.Moves = out
}

// lineThat finds the n-th line that an expression fits.
func lineThat(t *testing.T, lines []string, fits string, n int) int {
	t.Helper()
	r := regexp.MustCompile(fits)
	for i, l := range lines {
		if r.MatchString(l) {
			if n--; n < 0 {
				return i
			}
		}
	}
	t.Fatalf("no line %s", fits)
	return 0
}

// spoilings are ways in which programs go wrong, and what has to be said of them.
func spoilings() []struct {
	name string
	want []What
	do   func(s *spoiling)
} {
	at := func(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }
	replace := func(in int, old, new string) func(s *spoiling) {
		return func(s *spoiling) {
			s.text(in, func(text string) string {
				if !strings.Contains(text, old) {
					s.t.Fatalf("no %q to be spoilt", old)
				}
				return strings.Replace(text, old, new, 1)
			})
		}
	}
	afterHead := func(in int, line string) func(s *spoiling) { return replace(in, "M3\n", "M3\n"+line+"\n") }
	under := func(in int, line string) func(s *spoiling) { // way: after the 500th place
		return func(s *spoiling) {
			s.lines(in, func(l []string) []string {
				n := lineThat(s.t, l, `^X`, 500)
				return append(l[:n:n], append([]string{line}, l[n:]...)...)
			})
		}
	}
	return []struct {
		name string
		want []What
		do   func(s *spoiling)
	}{
		{"a line of the finish 0.3 mm lower", []What{IntoPart}, func(s *spoiling) {
			s.programs[finishA].Moves[s.cutting(finishA, 300, overPart)].To.Z -= 0.3
		}},
		{"a line of the rough pass 0.8 mm lower", []What{IntoPart}, func(s *spoiling) {
			n := s.cutting(roughA, 40, func(_, to geom.Vec) bool { return overPart(to, to) && to.Z < -0.5 })
			s.programs[roughA].Moves[n].To.Z = -8
		}},
		{"all of the finish 0.3 mm aside", []What{IntoPart}, func(s *spoiling) { shift(at(0.3, 0, 0), s.programs[finishA].Moves) }},
		{"all of the finish 0.3 mm to the back", []What{IntoPart}, func(s *spoiling) { shift(at(0, 0.3, 0), s.programs[finishB].Moves) }},
		{"all of the finish 0.1 mm lower", []What{IntoPart}, func(s *spoiling) { shift(at(0, 0, -0.1), s.programs[finishA].Moves) }},
		{"all of the finish 0.6 mm higher", []What{LeftFine}, func(s *spoiling) { shift(at(0, 0, 0.6), s.programs[finishA].Moves) }},
		{"all of the rough pass 2 mm aside", []What{IntoPart}, func(s *spoiling) { shift(at(2, 0, 0), s.programs[roughB].Moves) }},
		{"a rapid instead of a feed", []What{RapidCut}, func(s *spoiling) {
			s.programs[finishA].Moves[s.cutting(finishA, 500, overPart)].FeedMmMin = 0
		}},
		{"a rapid instead of a plunge", []What{RapidCut}, func(s *spoiling) {
			s.programs[roughA].Moves[s.cutting(roughA, 3, func(from, to geom.Vec) bool { return from.Z == safe && to.Z < -1 })].FeedMmMin = 0
		}},
		{"G0 for G1 in the text", []What{RapidCut}, replace(roughB, "G1 ", "G0 ")},
		{"the lift at a row's end is missing", []What{RapidCut, IntoPart}, func(s *spoiling) {
			s.lines(roughB, func(l []string) []string {
				n := lineThat(s.t, l, `^G0 Z5$`, 6)
				return append(l[:n:n], l[n+1:]...)
			})
		}},
		{"the safe height is below the face", []What{RapidCut}, func(s *spoiling) {
			s.text(roughA, func(text string) string { return strings.ReplaceAll(text, "Z5", "Z-2") })
		}},
		{"a rapid aside and down at once", []What{RapidSlant}, func(s *spoiling) {
			p := &s.programs[finishB]
			p.Moves = append(p.Moves, program.Move{To: at(50, 40, 2)})
		}},
		{"a number cut off", []What{IntoFrame}, func(s *spoiling) {
			s.lines(roughA, func(l []string) []string {
				n := lineThat(s.t, l, `^X[3-6]\d\.\d+ Z`, 30)
				l[n] = l[n][:2]
				return l
			})
		}},
		{"a number cut off at its point", []What{Unread}, func(s *spoiling) {
			s.lines(finishA, func(l []string) []string {
				n := lineThat(s.t, l, `^X[3-6]\d\.\d+ Z`, 30)
				l[n] = l[n][:4]
				return l
			})
		}},
		{"a sign without a number", []What{Unread}, func(s *spoiling) {
			s.lines(finishA, func(l []string) []string {
				n := lineThat(s.t, l, `Z-`, 30)
				l[n] = l[n][:strings.Index(l[n], "Z-")+2]
				return l
			})
		}},
		{"a sign that was lost", []What{LeftFine, RapidCut, IntoPart}, func(s *spoiling) {
			s.text(finishA, func(text string) string { return strings.ReplaceAll(text, "Z-", "Z") })
		}},
		{"a digit too many", []What{IntoBed}, func(s *spoiling) {
			s.lines(finishA, func(l []string) []string {
				n := lineThat(s.t, l, `Z-\d`, 30)
				l[n] = strings.Replace(l[n], "Z-", "Z-9", 1)
				return l
			})
		}},
		{"half a file", []What{Unread}, func(s *spoiling) {
			s.text(roughA, func(text string) string { return text[:len(text)/2] })
		}},
		{"no end", []What{Unread}, replace(roughA, "\nM2\n", "\n")},
		{"not a number", []What{Unread}, afterHead(finishB, "G1 XNaN F100")},
		{"a word that is none of these", []What{Unread}, afterHead(finishB, "G2 X5 Y5 R2 F100")},
		{"an arc the wrong way round", []What{IntoTab}, func(s *spoiling) {
			s.round(func(m *program.Move, _ geom.Vec) { m.Turn = program.Clockwise })
		}},
		{"G2 for G3 in the text", []What{IntoTab}, func(s *spoiling) {
			s.round(nil)
			s.text(roughA, func(text string) string { return strings.Replace(text, "G3 ", "G2 ", 1) })
		}},
		{"an arc round a middle on its other side", []What{IntoFrame}, func(s *spoiling) {
			s.round(func(m *program.Move, from geom.Vec) { m.Middle.X = 2*from.X - m.Middle.X })
		}},
		{"an arc round a wrong middle", []What{IntoPart}, func(s *spoiling) {
			s.round(nil)
			s.lines(roughA, func(l []string) []string {
				n := lineThat(s.t, l, `^G3 .* I`, 0)
				l[n] = strings.Replace(l[n], " I-", " I-1", 1)
				return l
			})
		}},
		{"an arc round a middle as far from neither end", []What{Unread}, func(s *spoiling) {
			s.round(nil)
			s.lines(roughA, func(l []string) []string {
				n := lineThat(s.t, l, `^G3 .* J`, 0)
				l[n] = strings.Replace(l[n], " J", " J1", 1)
				return l
			})
		}},
		{"an arc without its middle", []What{Unread}, func(s *spoiling) {
			s.round(nil)
			s.lines(roughA, func(l []string) []string {
				n := lineThat(s.t, l, `^G3 .* I`, 0)
				l[n] = l[n][:strings.Index(l[n], " I")]
				return l
			})
		}},
		{"an arc that ends nowhere near", []What{Unread, IntoPart, IntoFrame}, func(s *spoiling) {
			s.round(func(m *program.Move, _ geom.Vec) { m.To.Y += 8 })
		}},
		{"an arc that goes too deep", []What{IntoBed}, func(s *spoiling) {
			s.round(func(m *program.Move, _ geom.Vec) { m.To.Z = -12.6 })
		}},
		{"a part of a program is missing", []What{NoStep}, func(s *spoiling) {
			s.inParts(roughA, func(f []program.File) []program.File { return append(f[:1:1], f[2:]...) })
		}},
		{"the last part of a program is missing", []What{NoStep}, func(s *spoiling) {
			s.inParts(finishA, func(f []program.File) []program.File { return f[:len(f)-1] })
		}},
		{"the parts of a program in a wrong order", []What{NoStep}, func(s *spoiling) {
			s.inParts(roughA, func(f []program.File) []program.File { f[0], f[1] = f[1], f[0]; return f })
		}},
		{"the parts have changed their names", []What{TooDeep, IntoPart, RapidCut}, func(s *spoiling) {
			s.inParts(roughA, func(f []program.File) []program.File { f[0].Text, f[2].Text = f[2].Text, f[0].Text; return f })
		}},
		{"a line of the maker's own goes through wood", []What{RapidCut}, func(s *spoiling) {
			s.m.Last = []string{"G0 X48.5 Y38.5", "G0 Z-6"}
			s.writes.Last = s.m.Last
		}},
		{"a line of the maker's own lets the spindle stand", []What{StillCut}, func(s *spoiling) {
			s.lines(roughB, func(l []string) []string {
				n := lineThat(s.t, l, `^S`, 0)
				l[n] = "M5"
				return l
			})
		}},
		{"relative places", []What{Unread}, afterHead(finishB, "G91")},
		{"a tool", []What{Unread}, afterHead(finishB, "T2 M6")},
		{"a byte from elsewhere", []What{Unread}, afterHead(finishB, "G0 X1\xff")},
		{"a comment that doesn't end", []What{Unread}, afterHead(finishB, "(more")},
		{"it doesn't lift the cutter first", []What{Unread}, func(s *spoiling) {
			s.text(holesA, func(text string) string { return strings.Replace(text, "G0 Z5\n", "", 1) })
		}},
		{"inches for millimetres", []What{IntoClamp, IntoBed, IntoPart, Beyond}, replace(roughA, "G21", "G20")},
		{"no feed", []What{Unread}, func(s *spoiling) {
			s.text(holesA, func(text string) string { return regexp.MustCompile(` F\d+`).ReplaceAllString(text, "") })
		}},
		{"a feed too fast", []What{TooFast}, replace(roughA, "F2200", "F22000")},
		{"down too fast", []What{TooSteep}, func(s *spoiling) {
			s.programs[roughA].Moves[s.cutting(roughA, 3, func(from, to geom.Vec) bool { return from.Z == safe && to.Z < -1 })].FeedMmMin = 2000
		}},
		{"the spindle isn't started", []What{StillCut}, replace(roughB, "M3\n", "\n")},
		{"the spindle is stopped under way", []What{StillCut}, func(s *spoiling) {
			s.lines(roughB, func(l []string) []string {
				n := lineThat(s.t, l, `^X`, 500)
				return append(l[:n:n], append([]string{"M5"}, l[n:]...)...)
			})
		}},
		{"the spindle turns too slowly", []What{WrongSpeed}, replace(finishA, "S10000", "S1000")},
		{"the spindle slows down under way", []What{WrongSpeed}, under(roughB, "S900")},
		{"the spindle is told to turn at nothing under way", []What{WrongSpeed}, under(finishB, "S0")},
		{"the spindle's speed comes after the first cut", []What{WrongSpeed}, func(s *spoiling) {
			s.lines(finishA, func(l []string) []string {
				n := lineThat(s.t, l, `^S10000 M3$`, 0)
				l[n] = "M3"
				n = lineThat(s.t, l, `^X`, 50)
				return append(l[:n:n], append([]string{"S10000"}, l[n:]...)...)
			})
		}},
		{"the spindle is left turning", []What{Unread}, replace(finishA, "\nM5\n", "\n")},
		{"inches under way", []What{Unread}, under(finishA, "G20")},
		{"relative places under way", []What{Unread}, under(finishA, "G91")},
		{"another plane under way", []What{Unread}, under(roughA, "G18")},
		{"a feed of nothing", []What{Unread}, under(roughA, "F0")},
		{"a feed of less than nothing", []What{Unread}, under(roughA, "F-500")},
		{"a feed by the turn", []What{Unread}, under(roughA, "G95")},
		{"two ways to go on one line", []What{Unread}, under(roughA, "G0 G1 Z6")},
		{"another zero under way", []What{Unread}, under(roughA, "G92 X0")},
		{"the length of another tool", []What{Unread}, under(roughA, "G43 H2")},
		{"the spindle the other way round", []What{Unread}, under(roughA, "M4")},
		{"an end under way", []What{Unread}, under(roughA, "M30")},
		{"a place without how to go there", []What{Unread}, under(roughA, "G80\nX30 Y30")},
		{"a block that may be left out", []What{Unread}, under(roughA, "/Z6")},
		{"figures that are reckoned", []What{Unread}, under(roughA, "Z[1+5]")},
		{"a figure with an exponent", []What{Unread}, under(roughA, "Z6e0")},
		{"a comma for the point", []What{Unread}, under(roughA, "Z6,5")},
		{"a level of the rough pass is missing", []What{TooDeep}, func(s *spoiling) {
			p := &s.programs[roughA]
			first := 0
			for i, m := range p.Moves {
				if m.To.Z < -3 {
					first = i - 1
					break
				}
			}
			p.Moves = p.Moves[first:]
		}},
		{"the rough pass of side B is missing", []What{NoStep}, func(s *spoiling) {
			s.programs = append(s.programs[:roughB:roughB], s.programs[roughB+1:]...)
		}},
		{"the finish comes before the rough pass", []What{NoStep}, func(s *spoiling) {
			s.programs[roughB], s.programs[finishB] = s.programs[finishB], s.programs[roughB]
		}},
		{"side B has the paths of side A", []What{IntoPart, IntoTab}, func(s *spoiling) { s.programs[finishB].Moves = s.programs[finishA].Moves }},
		{"turned over about the other line", []What{IntoPart}, func(s *spoiling) { s.w.TurnAlongY = true }},
		{"another program's text", []What{WrongSpeed, IntoPart}, func(s *spoiling) {
			files, _ := program.Write(s.programs[roughB], s.writes)
			s.text(finishB, func(string) string { return string(files[0].Text) })
		}},
		{"too deep into the bed", []What{IntoBed}, func(s *spoiling) { s.insert(roughA, at(30, 38, -12.5)) }},
		{"a hole too deep into the bed", []What{IntoBed}, func(s *spoiling) {
			for i := range s.programs[holesA].Moves {
				if m := &s.programs[holesA].Moves[i]; m.To.Z < -14 {
					m.To.Z = -17
				}
			}
		}},
		{"over a register dowel", []What{IntoDowel}, func(s *spoiling) { s.insert(roughA, at(8, 36, -1), at(8, 40, -1)) }},
		{"a dowel's hole is missing", []What{NoHole}, func(s *spoiling) {
			p := &s.programs[holesA]
			p.Moves = p.Moves[:len(p.Moves)/2]
		}},
		{"a dowel's hole isn't through", []What{NoHole}, func(s *spoiling) {
			for i := range s.programs[holesA].Moves {
				m := &s.programs[holesA].Moves[i]
				m.To.Z = max(m.To.Z, -9)
			}
		}},
		{"the holes 1 mm aside", []What{IntoFrame}, func(s *spoiling) { shift(at(1, 0, 0), s.programs[holesA].Moves) }},
		{"the holes too wide", []What{IntoFrame}, func(s *spoiling) { s.programs[holesA].Cutter.Diameter = 6 }},
		{"into the frame", []What{IntoFrame}, func(s *spoiling) { s.insert(roughA, at(30, 38, -5), at(18, 38, -5)) }},
		{"a tab is cut", []What{IntoTab}, func(s *spoiling) { s.insert(roughA, at(40, 61, -6), at(57, 61, -6)) }},
		{"both tabs are cut", []What{IntoTab, Loose}, func(s *spoiling) {
			for _, y := range []float64{61.5, 15.3} {
				for z := -3.0; z >= -12; z -= 3 {
					s.insert(roughA, at(38, y, z), at(59, y, z))
				}
			}
		}},
		{"the free cut goes through the tabs", []What{IntoTab, Loose}, func(s *spoiling) { s.frees(4, 0) }},
		{"the free cut goes 0.3 mm too deep", []What{IntoTab}, func(s *spoiling) { s.frees(5.2, 0) }},
		{"the free cut goes into the frame", []What{IntoFrame}, func(s *spoiling) { s.frees(5.5, 15) }},
		{"the free cut goes into the part", []What{IntoPart}, func(s *spoiling) {
			s.frees(5.5, 0)
			shift(at(0, -3, 0), s.programs[freeA].Moves)
		}},
		{"the free cut comes before the finish", []What{NoStep}, func(s *spoiling) {
			s.frees(5.5, 0)
			s.programs[finishA], s.programs[freeA] = s.programs[freeA], s.programs[finishA]
		}},
		{"tabs are to stay whole", []What{IntoTab}, func(s *spoiling) {
			s.frees(5.5, 0)
			s.l.TabLeft = 0
		}},
		{"a clamp in the way", []What{IntoClamp}, func(s *spoiling) {
			s.l.Clamps = append(s.l.Clamps, Clamp{geom.Box2{Min: geom.Vec2{X: 25, Y: 50}, Max: geom.Vec2{X: 40, Y: 80}}, panel.SideA, 8})
		}},
		{"a clamp in the way once it is turned over", []What{IntoClamp}, func(s *spoiling) {
			s.l.Clamps = append(s.l.Clamps, Clamp{geom.Box2{Min: geom.Vec2{X: 72, Y: 20}, Max: geom.Vec2{X: 100, Y: 50}}, panel.SideB, 8})
		}},
		{"a rapid through a clamp", []What{IntoClamp}, func(s *spoiling) {
			p := &s.programs[roughA]
			p.Moves = append(p.Moves, program.Move{To: at(95, 2, safe)})
		}},
		{"the collet nut meets a clamp", []What{IntoClamp}, func(s *spoiling) {
			s.l.Nut, s.l.Clamps[0].Height = 40, 45
			s.insert(roughA, at(72, 14, 2))
		}},
		{"a cutter too wide", []What{IntoPart}, func(s *spoiling) { s.programs[roughA].Cutter.Diameter = 8 }},
		{"a flat end for a ball", []What{IntoPart}, func(s *spoiling) {
			s.programs[finishA].Cutter.Shape = stock.Flat
		}},
		{"a thick shank on a short cutting edge", []What{NutRubs}, func(s *spoiling) {
			s.programs[finishB].Cutter.CutLength, s.programs[finishB].Cutter.Shank = 4, 10
			s.l.FinishCut = 20
		}},
		{"a cutter too short for its nut", []What{NutRubs}, func(s *spoiling) { s.programs[roughA].Cutter.Reach = 6 }},
		{"every second row of the finish is missing, and more", []What{LeftFine}, func(s *spoiling) {
			keepRows(&s.programs[finishA], func(y float64) bool { return math.Mod(y+1e-6, 8) < 1 })
		}},
		{"the finish stops half way", []What{LeftFine}, func(s *spoiling) {
			keepRows(&s.programs[finishA], func(y float64) bool { return y < midY })
		}},
		{"the rough pass leaves an island", []What{LeftRough}, func(s *spoiling) {
			keepRows(&s.programs[roughA], func(y float64) bool { return y < 34 || y > 42 })
		}},
		{"too little travel", []What{Beyond}, func(s *spoiling) { s.m.Travel.X = 60 }},
		{"too little travel up and down", []What{Beyond}, func(s *spoiling) { s.m.Travel.Z = 12 }},
		{"the zero is elsewhere", []What{IntoFrame, IntoPart, RapidCut, IntoClamp}, func(s *spoiling) { s.m.Zero = stock.AtMiddle }},
		{"the zero is at the bed", []What{IntoBed, LeftFine, LeftRough}, func(s *spoiling) { s.m.Height = stock.OnBed }},
	}
}

// Programs that are spoilt are caught, whatever way they are spoilt in.
func TestSpoilt(t *testing.T) {
	all := spoilings()
	if len(all) < 40 {
		t.Fatalf("%d kinds", len(all))
	}
	for _, c := range all {
		t.Run(c.name, func(t *testing.T) {
			l, m := usual()
			s := &spoiling{t: t, w: wanted(), l: l, m: m, writes: m, programs: programs(), texts: map[int]func([]byte) []byte{}}
			c.do(s)
			files := written(t, s.programs, s.writes)
			for n, change := range s.texts {
				was := files[n].Files[0].Text
				files[n].Files[0].Text = change(was)
				if bytes.Equal(was, files[n].Files[0].Text) {
					t.Fatal("nothing was spoilt")
				}
			}
			if s.parts != nil {
				s.parts(files)
			}
			p := prove(t, s.w, s.l, s.m, files)
			found := map[What]Fault{}
			for _, f := range p.Faults {
				found[f.What] = f
			}
			some := false
			for _, w := range c.want {
				f, ok := found[w]
				some = some || ok
				if ok && len(f.String()) < 30 {
					t.Errorf("%v is told as %q", w, f)
				}
			}
			if !some {
				t.Errorf("%v is not found, but %v", c.want, fmt.Sprint(p.Faults))
			}
		})
	}
}

// TestNothingIsCut: a program that has nothing to take feeds the cutter nowhere. What it leaves is a fault, the speed of its spindle is
// none.
func TestNothingIsCut(t *testing.T) {
	l, m := usual()
	all := programs()
	moves := all[finishA].Moves
	all[finishA].Moves = []program.Move{{To: moves[len(moves)-1].To}}
	left := false
	for _, f := range prove(t, wanted(), l, m, written(t, all, m)).Faults {
		left = left || f.What == LeftFine
		if f.What == WrongSpeed {
			t.Error(f)
		}
	}
	if !left {
		t.Error("what is left isn't found")
	}
}
