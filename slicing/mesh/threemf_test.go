package mesh_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

const core = `xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"`

const relations = `<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Target="/Metadata/small.png" Id="r0" Type="http://schemas.openxmlformats.org/package/2006/relationships/metadata/thumbnail"/>
<Relationship Target="/3D/piece.model" Id="r1" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>`

// zipped makes an archive of names and contents, in turn.
func zipped(t testing.TB, parts ...string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for i := 0; i < len(parts); i += 2 {
		w, err := z.Create(parts[i])
		if err == nil {
			_, err = w.Write([]byte(parts[i+1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// threeMF is a file with its relations and one model.
func threeMF(t testing.TB, model string) []byte {
	return zipped(t, "[Content_Types].xml", "<Types/>", "_rels/.rels", relations, "3D/piece.model", model)
}

// meshXML is an object with m's surface.
func meshXML(id, more string, m *mesh.Mesh) string {
	var out strings.Builder
	fmt.Fprintf(&out, "<object id=\"%s\"%s><mesh><vertices>\n", id, more)
	for _, p := range m.Points {
		fmt.Fprintf(&out, "<vertex x=\"%v\" y=\"%v\" z=\"%v\" />\n", p[0], p[1], p[2])
	}
	out.WriteString("</vertices><triangles>\n")
	for _, t := range m.Triangles {
		fmt.Fprintf(&out, "<triangle v1=\"%d\" v2=\"%d\" v3=\"%d\" />\n", t[0], t[1], t[2])
	}
	out.WriteString("</triangles></mesh></object>\n")
	return out.String()
}

func modelXML(more, resources, build string) string {
	return `<?xml version="1.0" encoding="UTF-8"?>` + "\n<model " + core + " " + more + "><resources>\n" + resources +
		"</resources><build>" + build + "</build></model>"
}

const item = `<item objectid="1"/>`

func Test3MFGivesTheSameMesh(t *testing.T) {
	m := solidtest.Bumpy(80, 20_000)
	want, _, err := read(binarySTL(t, m))
	if err != nil {
		t.Fatal(err)
	}
	one := meshXML("1", "", m)
	prefixed := strings.NewReplacer("</", "</c:", "<", "<c:").Replace(one)
	for _, tt := range []struct {
		name string
		file []byte
		unit float64
	}{
		{"plain", threeMF(t, modelXML(`unit="millimeter"`, one, item)), 1},
		{"no unit", threeMF(t, modelXML("", one, item)), 1},
		{"inches, single quotes", threeMF(t, strings.ReplaceAll(modelXML(`unit="inch"`, one, item), `"`, `'`)), 25.4},
		{"with a mark and comments", threeMF(t, "\xef\xbb\xbf"+modelXML(`unit="micron"`, "<!-- <object> a > b --><![CDATA[<x]]>"+one, item)), 0.001},
		{"no relations", zipped(t, "3D/3dmodel.model", modelXML(`unit="foot"`, one, item)), 304.8},
		{"core names with a prefix", threeMF(t, `<c:model xmlns:c="http://schemas.microsoft.com/3dmanufacturing/core/2015/02" unit="meter"><c:resources>`+
			prefixed+`</c:resources><c:build><c:item objectid="1"/></c:build></c:model>`), 1000},
		{"slices and colours beside", threeMF(t, modelXML(`unit="centimeter" xmlns:s="http://schemas.microsoft.com/3dmanufacturing/slice/2015/07" requiredextensions="s"`,
			`<s:slicestack id="9"><s:slice><s:vertices><s:vertex x="1" y="2"/></s:vertices></s:slice></s:slicestack><basematerials id="5"><base name="oak" displaycolor="#FFEEDD"/></basematerials>`+one, item)), 10},
		{"support left out", threeMF(t, modelXML("", one+meshXML("2", ` type="support"`, solidtest.Box(1, 1, 1)), item+`<item objectid="2"/>`)), 1},
		{"parts elsewhere", zipped(t, "_rels/.rels", relations,
			"3D/piece.model", modelXML(`xmlns:p="http://schemas.microsoft.com/3dmanufacturing/production/2015/06" requiredextensions="p"`,
				`<object id="1"><components><component p:path="/3D/Objects/a.model" objectid="7"/></components></object>`, item),
			"3D/Objects/a.model", modelXML("", meshXML("7", "", m), "")), 1},
	} {
		got, raw, err := read(tt.file)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if raw != (mesh.Raw{Format: "3MF", Facets: len(m.Triangles), UnitMM: tt.unit}) || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: raw %+v, or another mesh than from binary STL", tt.name, raw)
		}
	}
}

// Boxes put together by transforms: volume and extent worked out by hand.
func Test3MFTransforms(t *testing.T) {
	box := meshXML("1", "", solidtest.Box(1, 2, 3))
	for _, tt := range []struct {
		name, more, resources, build string
		volume                       float64
		size                         [3]float64
		shells                       int
	}{
		{"two items", "", box, item + `<item objectid="1" transform="1 0 0 0 1 0 0 0 1 10 0 0"/>`, 12, [3]float64{11, 2, 3}, 2},
		{"turned about z by 90", "", box, `<item objectid="1" transform="0 1 0 -1 0 0 0 0 1 0 0 0"/>`, 6, [3]float64{2, 1, 3}, 1},
		{"stretched", "", box, `<item objectid="1" transform="2 0 0 0 3 0 0 0 4 0 0 0"/>`, 144, [3]float64{2, 6, 12}, 1},
		{"mirrored stays outside out", "", box, `<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>`, 6, [3]float64{1, 2, 3}, 1},
		{"within assemblies: turned, then moved, then doubled", "", box +
			`<object id="2"><components><component objectid="1" transform="0 1 0 -1 0 0 0 0 1 0 0 0"/><component objectid="1" transform="1 0 0 0 1 0 0 0 1 5 0 0"/></components></object>` +
			`<object id="3"><components><component objectid="2" transform="1 0 0 0 1 0 0 0 1 0 0 7"/><component objectid="2"/></components></object>`,
			`<item objectid="3" transform="2 0 0 0 2 0 0 0 2 0 0 0"/>`, 4 * 6 * 8, [3]float64{16, 4, 20}, 4},
		{"assembly before its parts", "", `<object id="2"><components><component objectid="1"/></components></object>` + box,
			`<item objectid="2"/>`, 6, [3]float64{1, 2, 3}, 1},
	} {
		m, _, err := read(threeMF(t, modelXML(tt.more, tt.resources, tt.build)))
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		f := mesh.Inspect(m, m.Adjacency())
		size := [3]float64{f.Size.X, f.Size.Y, f.Size.Z}
		if !f.Solid() || !near(f.Volume, tt.volume, 1e-6) || size != tt.size || f.Shells != tt.shells {
			t.Errorf("%s: %+v, want volume %v, size %v", tt.name, f, tt.volume, tt.size)
		}
	}
	inches := zipped(t, "_rels/.rels", relations,
		"3D/piece.model", modelXML(`unit="inch" xmlns:p="http://schemas.microsoft.com/3dmanufacturing/production/2015/06"`, "",
			`<item p:path="/3D/b.model" objectid="1" transform="1 0 0 0 1 0 0 0 1 1 0 0"/>`),
		"3D/b.model", modelXML(`unit="millimeter"`, box, ""))
	m, raw, err := read(inches)
	if err != nil || raw.UnitMM != 25.4 || !near(m.Volume()*math.Pow(25.4, 3), 6, 1e-5) {
		t.Errorf("millimetres within inches: %v, %+v, %v", m, raw, err)
	}
}

// noise is text that hardly packs.
func noise(n int) string {
	rnd := rand.New(rand.NewSource(1))
	b := make([]byte, n)
	for i := range b {
		b[i] = byte('a' + rnd.Intn(26))
	}
	return string(b)
}

func TestBroken3MF(t *testing.T) {
	box := meshXML("1", "", solidtest.Box(1, 2, 3))
	good := threeMF(t, modelXML("", box, item))
	laughs := box
	for i := 2; i < 40; i++ {
		c := fmt.Sprintf(`<component objectid="%d"/>`, i-1)
		laughs += fmt.Sprintf(`<object id="%d"><components>%s</components></object>`, i, strings.Repeat(c, 10))
	}
	for _, tt := range []struct {
		name string
		file []byte
		want string
	}{
		{"no archive", []byte("PK\x03\x04\x14\x00\x00\x00\x08\x00 3D/3dmodel.model"), "list of contents is missing"},
		{"cut short", good[:len(good)/2], "list of contents is missing"},
		{"another archive", zipped(t, "box.stl", string(binarySTL(t, solidtest.Box(1, 1, 1)))), "a zip archive without a 3MF model"},
		{"model missing", zipped(t, "_rels/.rels", relations), "a zip archive without a 3MF model"},
		{"no model", threeMF(t, "<html></html>"), "where the model should begin"},
		{"nothing", threeMF(t, ""), "holds no model"},
		{"document type", threeMF(t, "<?xml version=\"1.0\"?>\n<!DOCTYPE model [<!ENTITY a SYSTEM \"file:///etc/passwd\">]>"+modelXML("", box, item)), "line 2: it declares a document type"},
		{"an entity for a number", threeMF(t, modelXML("", strings.Replace(box, `x="1"`, `x="&a;"`, 1), item)), `"&a;" where a coordinate`},
		{"model cut short", threeMF(t, strings.SplitAfter(modelXML("", box, item), "<triangles>")[0]), "ends before the model does"},
		{"odd unit", threeMF(t, modelXML(`unit="cubit"`, box, item)), `the unit "cubit" is unknown`},
		{"needs lattices", threeMF(t, modelXML(`xmlns:b="http://schemas.microsoft.com/3dmanufacturing/beamlattice/2017/02" requiredextensions="b"`, box, item)), `without the extension "b"`},
		{"nothing built", threeMF(t, modelXML("", box, "")), "the file holds no triangles"},
		{"unknown object", threeMF(t, modelXML("", box, `<item objectid="4"/>`)), `object "4" is used but not there`},
		{"part of itself", threeMF(t, modelXML("", `<object id="1"><components><component objectid="2"/></components></object><object id="2"><components><component objectid="1"/></components></object>`, item)), "is part of itself"},
		{"ten to the 38th boxes", threeMF(t, modelXML("", laughs, `<item objectid="39"/>`)), "more triangles than can be read"},
		{"a million boxes", threeMF(t, modelXML("", laughs, `<item objectid="7"/>`)), "it repeats 12 triangles until they are 12000000"},
		{"corner too high", threeMF(t, modelXML("", strings.Replace(box, `v1="0"`, `v1="8"`, 1), item)), `object "1" names corner 8, it has 8, from 0`},
		{"corner below nought", threeMF(t, modelXML("", strings.Replace(box, `v1="0"`, `v1="-1"`, 1), item)), `"-1" is no corner's number`},
		{"no number", threeMF(t, modelXML("", strings.Replace(box, `x="1"`, `x="nan"`, 1), item)), "no finite number"},
		{"no z", threeMF(t, modelXML("", strings.Replace(box, ` z="0"`, ``, 1), item)), "a vertex without x, y and z"},
		{"vertex outside", threeMF(t, modelXML("", `<vertex x="1" y="1" z="1"/>`, item)), "outside of an object"},
		{"short transform", threeMF(t, modelXML("", box, `<item objectid="1" transform="1 0 0"/>`)), "nothing where a number of the transform"},
		{"transform to infinity", threeMF(t, modelXML("", box, `<item objectid="1" transform="1e300 0 0 0 1 0 0 0 1 0 0 0"/>`)), "carries a corner to no finite place"},
		{"no quotes", threeMF(t, modelXML("", "<object id=1>", item)), "has no quotes"},
		{"endless tag", threeMF(t, "<model "+core+" x=\""+noise(3<<20)), "a tag does not end"},
		{"same object twice", threeMF(t, modelXML("", box+box, item)), "for the second time"},
		{"utf-16", threeMF(t, "\xff\xfe<\x00m\x00"), "UTF-16"},
		{"400 MB of spaces", threeMF(t, modelXML("", strings.Repeat(" ", 400<<20), item)), "no solid packed into"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		m, _, err := read(tt.file)
		runtime.ReadMemStats(&after)
		var fault *mesh.FormatError
		var kind *mesh.UnsupportedError
		if m != nil || !errors.As(err, &fault) && !errors.As(err, &kind) {
			t.Errorf("%s: got %v", tt.name, err)
			continue
		}
		if !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s:\n got %v\nwant %s", tt.name, err, tt.want)
		}
		if got := after.TotalAlloc - before.TotalAlloc; got > 8<<20 {
			t.Errorf("%s: %d bytes taken for a file of %d", tt.name, got, len(tt.file))
		}
	}
}

func Fuzz3MF(f *testing.F) {
	box := meshXML("1", "", solidtest.Box(1, 2, 3))
	f.Add([]byte(modelXML(`unit="inch"`, box, item)))
	f.Add([]byte(modelXML("", box+`<object id="2"><components><component objectid="1" transform="1 0 0 0 1 0 0 0 1 5 0 0"/></components></object>`, `<item objectid="2"/>`)))
	f.Add([]byte("<!DOCTYPE x><model/>"))
	f.Fuzz(func(t *testing.T, model []byte) { checkPacked(t, stored(t, model)) })
}

// stored is an archive of one model, not packed, which is quicker.
func stored(t *testing.T, model []byte) []byte {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	w, err := z.CreateHeader(&zip.FileHeader{Name: "3D/3dmodel.model", Method: zip.Store})
	if err == nil {
		_, err = w.Write(model)
	}
	if err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// FuzzZip3MF feeds the archive itself.
func FuzzZip3MF(f *testing.F) {
	f.Add(threeMF(f, modelXML(`unit="inch"`, meshXML("1", "", solidtest.Box(1, 2, 3)), item)))
	f.Fuzz(checkPacked)
}

func BenchmarkLoad3MF(b *testing.B) {
	file := threeMF(b, modelXML("", meshXML("1", "", solidtest.Bumpy(200, 1_000_000)), item))
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := read(file); err != nil {
			b.Fatal(err)
		}
	}
}
