package plandata_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"lastpump/cmd/lastpump/internal/report/samples"
	"lastpump/cmd/lastpump/plandata"
	"lastpump/fuel"
	"lastpump/fuel/plan"
	"lastpump/fuel/plan/here"
	"lastpump/fuel/trip"
	"lastpump/testdata/kit"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"
)

func init() { kit.Draws(15) }

// Only one thing can be planned without a pump: a ride on what is in the tank.
func withoutStops(in *plan.Inputs) { in.Stops = nil }

func fromTheWay(in *plan.Inputs) {
	in.Options.From, in.Options.HasFrom = 212000, true
	in.Options.StartFuel, in.Options.HasStartFuel = 5, true
	in.Options.Used = &here.Used{Litres: 9.8, Trip: 100000}
}

// schema reads the schema, which has to be one (JSON Schema, draft 2020-12).
func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(plandata.Schema))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// valid holds a plan against the schema: it forbids keys that it does not describe, and
// wants all that it does.
func valid(t samples.T, s *jsonschema.Schema, p samples.Plan) {
	t.Helper()
	var b bytes.Buffer
	if err := plandata.Write(&b, plandata.New(p.Plan, p.Units)); err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(&b)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(doc); err != nil {
		t.Fatal(err)
	}
}

func TestSchemaHolds(t *testing.T) {
	s := schema(t)
	thirsty := fuel.DefaultBike()
	thirsty.Name, thirsty.Consumption = "Thirsty", 9
	for name, p := range map[string]samples.Plan{
		"steppe": samples.Example(t, "steppe"), "canyon": samples.Example(t, "canyon"),
		"a group":      samples.ExampleWith(t, "steppe", nil, fuel.DefaultBike(), thirsty),
		"on the way":   samples.ExampleWith(t, "steppe", fromTheWay),
		"by the clock": samples.ExampleWith(t, "steppe", samples.Timed),
		"no stops":     samples.ExampleWith(t, "canyon", withoutStops),
		"stops chosen": samples.ExampleWith(t, "steppe", func(in *plan.Inputs) { in.Options.FillAt, in.Options.Detours = plan.FillChosen, trip.Reach }),
	} {
		t.Run(name, func(t *testing.T) { valid(t, s, p) })
	}
}

func TestSchemaHoldsForDrawnPlans(t *testing.T) {
	s := schema(t)
	rapid.Check(t, func(t *rapid.T) { valid(t, s, samples.Draw(t)) })
}

// A key is one of an object of the schema.
type key struct {
	name, kind, what string
}

// An object is one of the schema, with its keys in order.
type object struct {
	name, what string
	keys       []key
}

// objects reads the objects of the schema.
func objects(t *testing.T) []object {
	t.Helper()
	root := pairs(t, plandata.Schema)
	out := []object{objectOf(t, "the document", plandata.Schema)}
	for _, p := range root {
		if p.name == "$defs" {
			for _, def := range pairs(t, p.value) {
				out = append(out, objectOf(t, def.name, def.value))
			}
		}
	}
	return out
}

type pair struct {
	name  string
	value json.RawMessage
}

// pairs reads the keys of an object and their values, in their order.
func pairs(t *testing.T, raw []byte) (out []pair) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(raw))
	d.Token()
	for d.More() {
		name, err := d.Token()
		var value json.RawMessage
		if err := errors.Join(err, d.Decode(&value)); err != nil {
			t.Fatal(err)
		}
		out = append(out, pair{name.(string), value})
	}
	return out
}

// A node is what a schema says of a value.
type node struct {
	Description string
	Type        any
	Ref         string `json:"$ref"`
	AnyOf       []node
	Items       *node
}

// kind says which values there may be.
func (n node) kind() string {
	switch {
	case n.Ref == "#":
		return "document"
	case n.Ref != "":
		return strings.TrimPrefix(n.Ref, "#/$defs/")
	case len(n.AnyOf) > 0:
		return n.AnyOf[0].kind() + " or null"
	case n.Items != nil:
		return "list of " + n.Items.kind()
	}
	if several, ok := n.Type.([]any); ok {
		return fmt.Sprintf("%v or %v", several...)
	}
	return fmt.Sprint(n.Type)
}

func objectOf(t *testing.T, name string, raw []byte) object {
	t.Helper()
	var o struct {
		node
		Properties json.RawMessage
	}
	if err := json.Unmarshal(raw, &o); err != nil {
		t.Fatal(err)
	}
	out := object{name: name, what: o.Description}
	for _, p := range pairs(t, o.Properties) {
		var n node
		if err := json.Unmarshal(p.value, &n); err != nil {
			t.Fatal(err)
		}
		out.keys = append(out.keys, key{p.name, n.kind(), n.Description})
	}
	return out
}

// Every key is described; one that ends in a unit names it, and one of kilometres says
// which they are.
func TestSchemaDescribes(t *testing.T) {
	units := map[string]string{"_km": "km", "_l": "itres", "_m": " m", "_kg": "kg", "_per_100km": "per 100 km"}
	which := regexp.MustCompile(`along the line, from its beginning|true km|on the trip meter|` +
		`as the trip meter shows|as it is drawn|longer the line`)
	for _, o := range objects(t) {
		for _, k := range o.keys {
			if !strings.HasSuffix(k.what, ".") && !strings.Contains(k.what, ": ") {
				t.Errorf("%s of %s is not described: %q", k.name, o.name, k.what)
			}
			for end, unit := range units {
				likewise := strings.Contains(k.what, "ikewise") || strings.Contains(k.what, "same")
				if strings.HasSuffix(k.name, end) && !strings.Contains(k.what, unit) && !likewise {
					t.Errorf("%s of %s does not say its unit: %q", k.name, o.name, k.what)
				}
			}
			if strings.HasSuffix(k.name, "_km") && !which.MatchString(k.what) {
				t.Errorf("%s of %s does not say which kilometres: %q", k.name, o.name, k.what)
			}
		}
	}
}

// README.md lists what the schema says.
func TestREADMEListsTheKeys(t *testing.T) {
	const begin = "<!-- The tables are made of schema.json: go test ./cmd/lastpump/plandata -update -->\n"
	was, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	head, _, found := strings.Cut(string(was), begin)
	if !found {
		t.Fatal("README.md has no place for the tables")
	}
	var b strings.Builder
	b.WriteString(head + begin)
	for _, o := range objects(t) {
		fmt.Fprintf(&b, "\n## %s\n\n%s\n\n| key | value | what it is |\n|---|---|---|\n", o.name, o.what)
		for _, k := range o.keys {
			fmt.Fprintf(&b, "| `%s` | %s | %s |\n", k.name, k.kind, k.what)
		}
	}
	if *update {
		if err := os.WriteFile("README.md", []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if b.String() != string(was) && !*update {
		t.Error("README.md does not say what schema.json does; -update makes its tables anew")
	}
}

var update = flag.Bool("update", false, "make the tables of README.md anew")

// Who reads plans needs no fonts, no PDF and no HTML.
func TestImportsNoLayout(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", ".").Output()
	if err != nil {
		t.Skip(err) // the go command is not there
	}
	for path := range strings.Lines(string(out)) {
		if regexp.MustCompile(`html/template|net/html$|fpdf|x/image|/report/|tablewriter|cobra`).MatchString(path) {
			t.Errorf("imports %s", path)
		}
	}
}

// JSON read again is the plan.
func TestJSONReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := samples.Draw(t)
		var b bytes.Buffer
		if err := plandata.Write(&b, plandata.New(p.Plan, p.Units)); err != nil {
			t.Fatal(err)
		}
		got, err := plandata.Read(&b)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(plandata.New(p.Plan, p.Units), got); diff != "" {
			t.Fatal(diff)
		}
	})
}

// The place to turn back from is that of the figure that every report prints, the sooner of
// the two; legs are numbered as in print; and where the tank is full at the start, the fill
// there is of what is in it.
func TestAgreesWithPrint(t *testing.T) {
	sooner := 0
	for _, name := range []string{"steppe", "canyon"} {
		p := samples.Example(t, name)
		d := plandata.New(p.Plan, p.Units)
		for i, l := range d.Legs {
			if l.TurnBackBy != min(l.TurnBackKm, l.TurnHighKm) || l.Number != i+1 {
				t.Errorf("%s, leg %d: number %d, by %v of %v and %v", name, i+1, l.Number, l.TurnBackBy, l.TurnBackKm, l.TurnHighKm)
			}
			if at := p.Line.At(p.Legs[i].TurnBackByAt); l.TurnBackAt != [2]float64{at.Lat(), at.Lon()} {
				t.Errorf("%s, leg %d: turn back at %v, want %v", name, i+1, l.TurnBackAt, at)
			}
			if l.TurnBackBy < l.TurnBackKm {
				sooner++
			}
		}
		if f := d.Visits[0].Fill; f == nil || f.Litres != 0 || f.CanL == 0 && *f.Grade != d.Start.Grade {
			t.Errorf("%s: fill at the start %+v, in the tank %s", name, f, d.Start.Grade)
		}
		if d.Date == nil || *d.Date != "2026-07-01" || d.Options.CorridorKm != 2 {
			t.Errorf("%s: date %v, options %+v", name, d.Date, d.Options)
		}
	}
	if sooner == 0 {
		t.Error("nowhere is the high figure the sooner: nothing is tested")
	}
}
