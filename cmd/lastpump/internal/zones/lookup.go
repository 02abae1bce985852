//go:build !js

package zones

import (
	"strings"
	"sync"
	"time"

	"github.com/paulmach/orb"
	"github.com/ringsaturn/tzf"
)

// boundaries are read when they are first asked for: that takes half a second and stays in
// memory.
var boundaries = sync.OnceValues(tzf.NewDefaultFinder)

// A finder is one use of the boundaries; it keeps the zones that it has met.
type finder struct {
	mu    sync.Mutex
	zones map[string]*time.Location
}

// Lookup gives a function that tells the zone of a place. Nothing is loaded before it is
// first called. It tells nil where no law does: over sea, where zones are only counted by
// the longitude, and those are an hour or two off what people there keep.
func Lookup() func(orb.Point) *time.Location {
	f := finder{zones: map[string]*time.Location{}}
	return f.at
}

func (f *finder) at(p orb.Point) *time.Location {
	all, err := boundaries()
	if err != nil {
		return nil
	}
	name := all.GetTimezoneName(p.Lon(), p.Lat())
	if name == "" || strings.HasPrefix(name, "Etc/") {
		return nil
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	z, ok := f.zones[name]
	if !ok {
		if z, err = time.LoadLocation(name); err != nil {
			z = nil // a name that is newer than the rules
		}
		f.zones[name] = z
	}
	return z
}
