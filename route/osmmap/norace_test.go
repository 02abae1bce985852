//go:build !race

package osmmap

const raceDetector = false
