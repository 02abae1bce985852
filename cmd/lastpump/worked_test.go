package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestWorkedSheets holds the program to the sheets that were worked by hand for
// both examples: within 0.01 L, 0.1 km and 0.05 octane.
func TestWorkedSheets(t *testing.T) {
	for name, args := range examples {
		t.Run(name, func(t *testing.T) {
			out, _ := lastpump(t, append(args[:len(args):len(args)], "--can", "none", "--fill", "everywhere", "--json", "-")...)
			var plan any
			if err := json.Unmarshal([]byte(out), &plan); err != nil {
				t.Fatal(err)
			}
			sheet, err := os.ReadFile("../../examples/" + name + "/worked.md")
			if err != nil {
				t.Fatal(err)
			}
			checks := checkLines(t, string(sheet))
			if len(checks) < 25 {
				t.Errorf("%d checks, at least 25 are wanted", len(checks))
			}
			for _, c := range checks {
				if err := c.hold(plan); err != nil {
					t.Errorf("%s: %v", c.path, err)
				}
			}
		})
	}
}

// A check is a line of the block that ends a sheet: path = value unit.
type check struct{ path, value, unit string }

func checkLines(t *testing.T, sheet string) []check {
	t.Helper()
	_, block, found := strings.Cut(sheet, "```check\n")
	block, _, closed := strings.Cut(block, "```")
	if !found || !closed {
		t.Fatal("the sheet has no block of checks")
	}
	var out []check
	for line := range strings.Lines(block) {
		m := regexp.MustCompile(`^(\S+) = (.+) (\S+)\n$`).FindStringSubmatch(line)
		if m == nil {
			t.Fatalf("not a check: %q", line)
		}
		out = append(out, check{m[1], m[2], m[3]})
	}
	return out
}

// tolerances by unit; a word has to be the same.
var tolerances = map[string]float64{"L": 0.01, "km": 0.1, "RON": 0.05, "AKI": 0.05}

func (c check) hold(plan any) error {
	got, err := follow(plan, c.path)
	if err != nil {
		return err
	}
	if c.unit == "word" {
		if got != c.value {
			return fmt.Errorf("%v, by hand %s", got, c.value)
		}
		return nil
	}
	within, known := tolerances[c.unit]
	want, err := strconv.ParseFloat(c.value, 64)
	number, isNumber := got.(float64)
	if !known || err != nil || !isNumber {
		return fmt.Errorf("%v against %q %s: not to be compared", got, c.value, c.unit)
	}
	if !(math.Abs(number-want) <= within) {
		return fmt.Errorf("%v, by hand %v %s", number, want, c.unit)
	}
	return nil
}

// follow goes along a path like legs[4].ground[dirt].ridden_km: a number counts
// the elements of a list, a word names the ground.
func follow(v any, path string) (any, error) {
	for _, part := range regexp.MustCompile(`[^.\[\]]+|\[[^\]]+\]`).FindAllString(path, -1) {
		inside, isIndex := strings.CutPrefix(part, "[")
		if !isIndex {
			object, _ := v.(map[string]any)
			child, ok := object[part]
			if !ok {
				return nil, fmt.Errorf("there is no %q", part)
			}
			v = child
			continue
		}
		list, _ := v.([]any)
		i, err := position(list, strings.TrimSuffix(inside, "]"))
		if err != nil {
			return nil, err
		}
		v = list[i]
	}
	return v, nil
}

func position(list []any, which string) (int, error) {
	if i, err := strconv.Atoi(which); err == nil && i >= 0 && i < len(list) {
		return i, nil
	}
	for i, e := range list {
		if object, ok := e.(map[string]any); ok && object["ground"] == which {
			return i, nil
		}
	}
	return 0, fmt.Errorf("there is no [%s] among %d", which, len(list))
}
