package fuel_test

import (
	"testing"

	"lastpump/fuel"
	"lastpump/route"

	"github.com/google/go-cmp/cmp"
)

// The table of the weights as the model fixes it: our estimate.
var weightTable = map[route.Ground]fuel.Weight{
	route.Paved:        {Low: 0.95, Likely: 1.00, High: 1.05},
	route.PackedGravel: {Low: 1.00, Likely: 1.05, High: 1.15},
	route.LooseGravel:  {Low: 1.10, Likely: 1.25, High: 1.40},
	route.Dirt:         {Low: 1.10, Likely: 1.25, High: 1.40},
	route.Soft:         {Low: 1.30, Likely: 1.50, High: 1.80},
	route.Rocky:        {Low: 1.30, Likely: 1.50, High: 2.00},
	route.Mud:          {Low: 1.40, Likely: 1.70, High: 2.50},
	route.Sand:         {Low: 1.50, Likely: 1.80, High: 2.80},
	route.DeepSand:     {Low: 2.00, Likely: 2.50, High: 3.50},
	route.Snow:         {Low: 1.30, Likely: 1.60, High: 2.20},
	route.Unknown:      {Low: 1.10, Likely: 1.25, High: 1.40}, // planned as dirt
}

func TestWeightsAreTheTable(t *testing.T) {
	got := map[route.Ground]fuel.Weight{}
	for _, g := range route.AllGrounds() {
		got[g] = fuel.GeneralWeight(g)
		if w := checkBike().Weight(g); w != got[g] {
			t.Errorf("%s: a bike without weights of its own has %v", g, w)
		}
	}
	if diff := cmp.Diff(weightTable, got); diff != "" {
		t.Errorf("weights (- table, + code):\n%s", diff)
	}
	if w := fuel.GeneralWeight("no ground"); w != weightTable[route.Dirt] {
		t.Errorf("a ground there is not: %v, want that of dirt", w)
	}
}

func TestOwnWeight(t *testing.T) {
	b := checkBike()
	own := fuel.Weight{Low: 1.6, Likely: 1.9, High: 2.6}
	b.Own = map[route.Ground]fuel.Weight{route.Sand: own}
	if got := b.Weight(route.Sand); got != own {
		t.Errorf("own weight of sand: %v, want %v", got, own)
	}
	if got := b.Weight(route.DeepSand); got != weightTable[route.DeepSand] {
		t.Errorf("deep sand has the weight of sand: %v", got)
	}
	b.Own = map[route.Ground]fuel.Weight{route.Dirt: own}
	if got := b.Weight(route.Dirt); got != own {
		t.Errorf("own weight of dirt: %v, want %v", got, own)
	}
}
