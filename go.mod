module lastpump

go 1.26.0

require (
	codeberg.org/go-pdf/fpdf v0.12.0
	github.com/BurntSushi/toml v1.6.0
	github.com/gabriel-vasile/mimetype v1.4.16
	github.com/google/shlex v0.0.0-20191202100458-e7afc7fbc510
	github.com/klauspost/compress v1.18.1
	github.com/klauspost/readahead v1.4.0
	github.com/mattn/go-isatty v0.0.20
	github.com/mattn/go-runewidth v0.0.19
	github.com/olekukonko/tablewriter v1.1.5
	github.com/paulmach/orb v0.14.0
	github.com/ringsaturn/tzf v1.1.0
	github.com/spf13/cobra v1.10.2
	github.com/spf13/pflag v1.1.0
	github.com/tidwall/rtree v1.10.0
	golang.org/x/image v0.48.0
	golang.org/x/text v0.44.0
	google.golang.org/protobuf v1.36.12
)

// tests
require (
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/google/go-cmp v0.7.0
	github.com/muktihari/xmltokenizer v0.0.5
	github.com/paulmach/osm v0.8.0
	github.com/rogpeppe/go-internal v1.16.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	github.com/tkrajina/gpxgo v1.4.0
	golang.org/x/net v0.62.0
	pgregory.net/rapid v1.3.0
)

require (
	github.com/cespare/xxhash/v2 v2.3.0 // indirect
	github.com/clipperhouse/displaywidth v0.10.0 // indirect
	github.com/clipperhouse/uax29/v2 v2.6.0 // indirect
	github.com/fatih/color v1.18.0 // indirect
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/mattn/go-colorable v0.1.14 // indirect
	github.com/olekukonko/cat v0.0.0-20250911104152-50322a0618f6 // indirect
	github.com/olekukonko/errors v1.2.0 // indirect
	github.com/olekukonko/ll v0.1.6 // indirect
	github.com/ringsaturn/tzf-dist v0.0.2026-a // indirect
	github.com/tidwall/geoindex v1.7.0 // indirect
	go.mongodb.org/mongo-driver/v2 v2.5.0 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/tools v0.52.0 // indirect
)
