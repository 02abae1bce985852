package filled

import (
	"fmt"

	"lastpump/cmd/lastpump/internal/words/units"
)

// What stands over the parts of what was learnt.
const (
	HeadTanks   = "Tanks"
	HeadThirst  = "Thirst"
	HeadGrounds = "Grounds"
	HeadTold    = "What the tanks tell, and what not"
	HeadFile    = "Of the file"
)

// PageTitle names the page of a bike; it may have no name.
func PageTitle(bike string) string {
	if bike == "" {
		return "What these tanks say of the bike"
	}
	return "What its tanks say of " + bike
}

// TanksShown explains the picture of the tanks.
func TanksShown(u units.System) string {
	return fmt.Sprintf("Each tank by its row in the file, %s: the box is what was expected of it from the tanks before, nine "+
		"times in ten, the line in it the likely figure; the dot is what was filled, ringed where nothing was learnt from it.",
		u.VolumeUnit())
}

// What explains the other pictures.
const (
	ThirstShown = "How many times its figure the bike drinks on paved road, as it was known after each tank (by its row in the " +
		"file): nine times in ten it lies in the band."
	GroundsShown = "How many times as much as paved road each ground takes: the dot is what is known now, the bar where it lies " +
		"four times in five, the upright line what the bike file says."
)
