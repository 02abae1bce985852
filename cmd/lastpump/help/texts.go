package help

import _ "embed"

// What --help prints of the program, and of each command.
var (
	//go:embed root.txt
	Root string

	//go:embed plan.txt
	Plan string

	//go:embed survey.txt
	Survey string

	//go:embed init.txt
	Init string

	//go:embed compare.txt
	Compare string

	//go:embed bike.txt
	Bike string

	//go:embed grade.txt
	Grade string

	//go:embed fills.txt
	Fills string

	//go:embed learn.txt
	Learn string

	//go:embed hours.txt
	Hours string

	//go:embed sun.txt
	Sun string

	//go:embed page.txt
	Page string

	//go:embed help.txt
	Help string
)

// BikeTemplate is a bike file to fill in.
//
//go:embed bike.toml
var BikeTemplate string
