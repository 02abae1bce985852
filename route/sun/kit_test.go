package sun_test

import "lastpump/testdata/kit"

func init() { kit.Draws(30) }
