package relief_test

import (
	"bytes"
	"fmt"
	"log"
	"testing/fstest"

	"github.com/paulmach/orb"

	"lastpump/route"
	"lastpump/route/relief"
)

// plateau is a folder with one tile of 3″: 01 66 is 358 m, high byte first.
var plateau = fstest.MapFS{
	"N51E010.hgt": {Data: bytes.Repeat([]byte{0x01, 0x66}, 1201*1201)},
}

func ExampleTiles_Height() {
	tiles, err := relief.Open(plateau) // os.DirFS for a folder on disk
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range []orb.Point{{10.25, 51.5}, {9.75, 51.5}} {
		metres, ok, err := tiles.Height(p)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Println(metres, ok)
	}
	fmt.Println("missing:", tiles.Missing())
	// Output:
	// 358 true
	// 0 false
	// missing: [N51E009]
}

func ExampleTiles_Fill() {
	tiles, err := relief.Open(plateau)
	if err != nil {
		log.Fatal(err)
	}
	tracks := []route.Track{{Segments: [][]route.Point{{
		{Point: orb.Point{10.25, 51.50}, Ele: 361, HasEle: true},
		{Point: orb.Point{10.25, 51.51}},
		{Point: orb.Point{10.25, 51.52}, Ele: 363, HasEle: true}, // 2.2 km on
	}}}}
	filled, err := tiles.Fill(tracks, false)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d of %d\n", filled.From, filled.Points)
	for _, p := range tracks[0].Segments[0] {
		fmt.Println(p.Ele)
	}
	// Output:
	// 1 of 1
	// 361
	// 358
	// 363
}
