package octane

// Across is how a number is turned into the other scale, for any sensitivity.
var Across = across
