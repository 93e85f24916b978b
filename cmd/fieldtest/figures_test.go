package fieldtest

import (
	"encoding/json"
	"fmt"
	"math"

	"grainstack/slicing/mesh"
)

// A fault is something that must not be: its kind, by which faults are counted, and what and where.
type fault struct{ kind, text string }

// faults collects what is found wrong.
type faults []fault

func (f *faults) add(kind, format string, a ...any) {
	*f = append(*f, fault{kind, fmt.Sprintf(format, a...)})
}

// near adds a fault where got is farther from want than by.
func (f *faults) near(kind, what string, got, want, by float64) {
	if !(math.Abs(got-want) <= by) {
		f.add(kind, "%s: %.6g instead of %.6g, %.3g apart where %.3g is allowed", what, got, want, math.Abs(got-want), by)
	}
}

// A report is what the tests read of the program's own.
type report struct {
	Piece    surface `json:"piece"`
	Scan     surface `json:"scan"`
	Withheld string  `json:"withheld"`
	Settings struct {
		Scale   float64    `json:"scale"`
		TurnDeg [3]float64 `json:"turn_deg"`
		LayerMm float64    `json:"layer_mm"`
	} `json:"settings"`
	Layers []struct {
		Number int     `json:"number"`
		Bottom float64 `json:"bottom_mm"`
		Top    float64 `json:"top_mm"`
		Wood   float64 `json:"wood_cm3"`
		Core   float64 `json:"core_cm3"`
		Joint  float64 `json:"joint_below_cm2"`
		Parts  int     `json:"parts"`
		Weight float64 `json:"weight_kg"`
		Sliver float64 `json:"slivers_mm3"` // left out of the wood
	} `json:"layers"`
	Totals *struct {
		Layers int     `json:"layers"`
		Wood   float64 `json:"wood_cm3"`
		Core   float64 `json:"core_cm3"`
		WoodKg float64 `json:"wood_kg"`
		Weight float64 `json:"weight_kg"`
		Joint  float64 `json:"joint_cm2"`
	} `json:"totals"`
	Panels []struct {
		Number int    `json:"number"`
		Board  string `json:"board"`
		Parts  []struct {
			Layer   int     `json:"layer"`
			Part    int     `json:"part"`
			X       float64 `json:"x_mm"`
			Y       float64 `json:"y_mm"`
			TurnDeg int     `json:"turn_deg"`
			Tabs    int     `json:"tabs"`
		} `json:"parts"`
	} `json:"panels"`
	Boards *struct {
		Kinds []struct {
			Board  string `json:"board"`
			Count  int    `json:"count"`
			Panels int    `json:"panels"`
		} `json:"kinds"`
	} `json:"boards"`
	Joints []struct {
		Below int     `json:"below"`
		Above int     `json:"above"`
		Area  float64 `json:"area_cm2"`
		GlueG float64 `json:"glue_g"`
	} `json:"joints"`
	Seams []struct {
		Layer int `json:"layer"`
	} `json:"seams"`
	GlueUp []struct {
		Stage   int     `json:"stage"`
		Number  int     `json:"number"`
		Lower   [2]int  `json:"lower"`
		Upper   [2]int  `json:"upper"`
		GlueG   float64 `json:"glue_g"`
		Clamps  int     `json:"clamps"`
		LiftKg  float64 `json:"lift_kg"`
		MakesKg float64 `json:"makes_kg"`
	} `json:"glue_up"`
}

type surface struct {
	Solid  bool       `json:"solid"`
	Volume *float64   `json:"volume_cm3"`
	Size   [3]float64 `json:"size_mm"`
}

// readReport reads a report; a figure that is not finite can't stand in it.
func readReport(text []byte) (*report, error) {
	var r report
	err := json.Unmarshal(text, &r)
	return &r, err
}

const (
	share   = 1e-4 // a hundredth of a per cent: what figures and solids may be apart
	rounded = 1e-6 // relative: sums of the same figures
)

// check holds a report's figures against one another.
func (r *report) check(f *faults) {
	if r.Withheld != "" || r.Totals == nil {
		return
	}
	var wood, core, kg, joint, slivers float64
	for i, l := range r.Layers {
		if l.Number != i+1 || !(l.Top > l.Bottom) {
			f.add("layers", "layer %d is number %d, from %.3f to %.3f mm", i+1, l.Number, l.Bottom, l.Top)
		}
		if l.Wood < 0 || l.Core < 0 || l.Weight < 0 || l.Joint < 0 {
			f.add("less than nothing", "layer %d: wood %g cm³, hollow %g cm³, %g kg, joint %g cm²", l.Number, l.Wood, l.Core, l.Weight, l.Joint)
		}
		slivers += l.Sliver / 1000
		wood, core, kg, joint = wood+l.Wood, core+l.Core, kg+l.Weight, joint+l.Joint
	}
	t := r.Totals
	f.near("sum of layers", "wood, cm³", wood, t.Wood, rounded*t.Wood)
	f.near("sum of layers", "hollow, cm³", core, t.Core, rounded*(t.Wood+t.Core))
	f.near("sum of layers", "weight of the wood, kg", kg, t.WoodKg, rounded*t.WoodKg)
	f.near("sum of layers", "joints, cm²", joint, t.Joint, rounded*t.Joint)
	if r.Piece.Volume != nil {
		f.near("sum of layers", "wood, hollow and slivers against the piece, cm³", wood+core+slivers, *r.Piece.Volume, share**r.Piece.Volume)
	}
	if t.Layers != len(r.Layers) {
		f.add("sum of layers", "%d layers are told, %d listed", t.Layers, len(r.Layers))
	}
}

// A scan is a mesh file as it was read.
type scan struct {
	m      *mesh.Mesh
	closed bool
	volume float64 // in the file's units
}

// readScan opens a mesh and measures it.
func readScan(path string) (*scan, error) {
	m, _, err := mesh.Open(path)
	if err != nil {
		return nil, err
	}
	s := &solid{points: make([]point, len(m.Points))}
	for i, p := range m.Points {
		s.points[i] = point{float64(p[0]), float64(p[1]), float64(p[2])}
	}
	for _, t := range m.Triangles {
		s.facets = append(s.facets, [3]int32{int32(t[0]), int32(t[1]), int32(t[2])})
	}
	return &scan{m, s.open() == 0, s.volume()}, nil
}

// check holds what the report says of the scan against what was asked, whatever mending did to it, and against the file itself.
func (s *scan) check(r *report, u *setup, f *faults) {
	f.near("size", "height of the scan, mm", r.Scan.Size[2], u.height, share*u.height)
	if v := r.Scan.Volume; v != nil && s.closed {
		k := r.Settings.Scale
		want := math.Abs(s.volume) * k * k * k / 1000
		f.near("volume of the scan", "cm³", *v, want, 10*rounded*want)
	}
	if !u.mended && r.Totals != nil && r.Scan.Volume == nil && r.Totals.Wood > 0 {
		f.add("no inside", "the scan is no solid and is left as it is, yet %.3f cm³ of wood are told", r.Totals.Wood)
	}
}
