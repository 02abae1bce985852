package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A drawnRide is a ride as files and flags.
type drawnRide struct {
	gpx, stops, ground string
	flags              []string
}

// drawRide draws a loop of several parts with all that a file can have: gaps, heights
// that are missing, halts with times, strays, parts in a wrong order; and flags.
func drawRide(t *rapid.T) drawnRide {
	var r drawnRide
	bool := func(what string) bool { return rapid.Bool().Draw(t, what) }
	lat, lon := rapid.Float64Range(-60, 60).Draw(t, "lat"), rapid.SampledFrom([]float64{10, -75.5, 179.9}).Draw(t, "lon")
	radius := rapid.Float64Range(0.15, 0.6).Draw(t, "radius") // degrees of latitude
	days := rapid.IntRange(1, 4).Draw(t, "days")
	perDay := rapid.SampledFrom([]int{25, 90, 320}).Draw(t, "points")
	wiggle, heights, closed := rapid.Float64Range(0, 0.2).Draw(t, "wiggle"), rapid.IntRange(0, 3).Draw(t, "heights"), bool("closed")
	at := func(k float64) (y, x float64) { // k from 0 to 1 round the loop
		a := 2 * math.Pi * k
		if !closed {
			a *= 0.8
		}
		far := radius * (1 + wiggle*math.Sin(7*a) + 0.1*wiggle*math.Sin(53*a))
		x = lon + far*math.Sin(a)/math.Cos(lat*math.Pi/180)
		if x >= 180 {
			x -= 360
		}
		return lat + far*math.Cos(a), x
	}
	var tracks []string
	clock := 1_750_000_000
	for d := range days {
		trk := fmt.Sprintf("<trk><name>%s</name><trkseg>", rapid.SampledFrom([]string{"", "Day", "Ж &amp; \"x\"", fmt.Sprintf("Day %d", d+1)}).Draw(t, "name"))
		timed, halt := bool("timed"), rapid.IntRange(0, perDay).Draw(t, "halt")
		gapAt, gapLong := rapid.IntRange(0, perDay).Draw(t, "gap"), rapid.SampledFrom([]int{0, 0, 1, perDay / 4}).Draw(t, "long")
		stray, split := rapid.IntRange(0, 3*perDay).Draw(t, "stray"), bool("split")
		point := func(k int, y, x float64) {
			trk += fmt.Sprintf(`<trkpt lat="%.7f" lon="%.7f">`, y, x)
			if heights == 1 || heights == 2 && k*3/perDay != 1 || heights == 3 && d%2 == 0 {
				trk += fmt.Sprintf("<ele>%.2f</ele>", 800+400*math.Sin(float64(k)/9))
			}
			if timed {
				trk += fmt.Sprintf("<time>2025-06-%02dT%02d:%02d:%02dZ</time>", 1+clock/86400%28, clock/3600%24, clock/60%60, clock%60)
			}
			trk += "</trkpt>"
		}
		for k := range perDay + 1 {
			clock += 60
			if k > gapAt && k <= gapAt+gapLong && k < perDay {
				if k == gapAt+1 && split {
					trk += "</trkseg><trkseg>"
				}
				continue
			}
			y, x := at((float64(d) + float64(k)/float64(perDay)) / float64(days))
			point(k, y, x)
			if k == halt && timed {
				for j := range 40 {
					clock += 20
					point(k, y+0.00007*math.Sin(float64(j*j)), x+0.00007*math.Cos(float64(j*j)))
				}
			}
			if k == stray {
				point(k, y+0.9, x)
			}
		}
		tracks = append(tracks, trk+"</trkseg></trk>")
	}
	if bool("shuffled") {
		tracks = rapid.Permutation(tracks).Draw(t, "order")
	}
	r.gpx = `<gpx version="1.1"><metadata><name>drawn</name></metadata>` + strings.Join(tracks, "") + "</gpx>"
	r.stops = drawStops(t, at)
	r.ground = drawGround(t, 2*math.Pi*radius*111*0.8)
	r.flags = drawFlags(t, days, radius)
	return r
}

// drawStops draws stops of all standings with odd names; the loop may pass them twice.
func drawStops(t *rapid.T, at func(float64) (y, x float64)) string {
	list := "name,lat,lon,grades,standing,confirmed,price,note,hours\n"
	n := rapid.IntRange(2, 9).Draw(t, "stops")
	for i := range n {
		y, x := at((float64(i) + rapid.Float64Range(0, 1).Draw(t, "on")) / float64(n))
		list += fmt.Sprintf("\"%d%s\",%v,%v,%s,%s,%s,%s,\"%s\",24/7\n", i, rapid.SampledFrom([]string{"", " Ж", " =1+1", " name: x", "\nnote: y", " <&>", "; Plan: "}).Draw(t, "name"),
			y+rapid.SampledFrom([]float64{0, 0.001, 0.01, 0.03}).Draw(t, "off"), x,
			rapid.SampledFrom([]string{"", "95 RON", "80 RON; 92 RON", "91 AKI; diesel", "95/85", "diesel", "petrol"}).Draw(t, "grades"),
			rapid.SampledFrom([]string{"", "seen", "phoned", "map", "map", "hearsay"}).Draw(t, "standing"),
			rapid.SampledFrom([]string{"", "2026-05-31", "2024-01-01"}).Draw(t, "confirmed"), rapid.SampledFrom([]string{"", "1.6 EUR/L"}).Draw(t, "price"),
			rapid.SampledFrom([]string{"", "a; b", "two\nlines", "plan mark", "grades: 100 RON"}).Draw(t, "note"))
	}
	return list
}

// drawGround draws sections over the first kilometres of the file.
func drawGround(t *rapid.T, most float64) string {
	list, at := "from_km,to_km,ground\n", 0.0
	for range rapid.IntRange(0, 5).Draw(t, "sections") {
		from := at + rapid.SampledFrom([]float64{0, 3.3}).Draw(t, "hole")
		at = from + rapid.Float64Range(1, most/8).Draw(t, "km")
		list += fmt.Sprintf("%.3f,%.3f,%s\n", from, at, rapid.SampledFrom([]string{"sand", "paved", "mud", "dirt", "unknown"}).Draw(t, "ground"))
	}
	return list
}

func drawFlags(t *rapid.T, days int, radius float64) (flags []string) {
	add := func(what string, values ...string) {
		if v := rapid.SampledFrom(values).Draw(t, what); v != "" {
			flags = append(flags, strings.Fields(v)...)
		}
	}
	add("reverse", "", "--reverse")
	add("begin", "", "", fmt.Sprintf("--begin-at %.2f", radius*111*rapid.Float64Range(0, 6).Draw(t, "begin at")), "--begin-at 1")
	add("order", "", "", "--order nearest")
	add("stretch", "", "--stretch 1.13", "--stretch auto")
	add("gaps", "--gaps ride", "--gaps skip")
	add("corridor", "", "--corridor 4km")
	add("detours", "", "", "", "--fill chosen --detours 30km")
	add("units", "", "--units us")
	if days > 1 {
		add("part", "", "", "--skip-part 2")
	}
	return flags
}

// Any ride comes back from its GPX as it was planned, whatever was arranged, left out or
// cleaned.
func TestAnyRideComesBackFromGPX(t *testing.T) {
	folder := t.TempDir()
	planned, drawn := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		r := drawRide(t)
		name := func(file, text string) string {
			path := filepath.Join(folder, file)
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			return path
		}
		args := []string{"plan", name("ride.gpx", r.gpx), "--stops", name("stops.csv", r.stops), "--ground", name("ground.csv", r.ground), "--date", "2026-07-01"}
		drawn++
		if again(t, folder, append(args, r.flags...)...) != "" {
			planned++
		}
	})
	t.Logf("%d of %d rides can be planned", planned, drawn)
	if planned*3 < drawn {
		t.Errorf("only %d of %d rides can be planned", planned, drawn)
	}
}
