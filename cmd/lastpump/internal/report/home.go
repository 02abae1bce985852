package report

import (
	"io"
	"lastpump/fuel/plan"
)

type Contact struct{ Key, Text string }

func ParseContact(s string) (Contact, error)                            { return Contact{}, nil }
func WriteHomeHTML(w io.Writer, p *plan.Plan, contacts []Contact) error { return nil }
func WriteHomePDF(w io.Writer, p *plan.Plan, contacts []Contact) error  { return nil }
