package hours_test

import (
	"errors"
	"fmt"
	"time"

	"lastpump/fuel/stop/hours"
)

func ExampleHours_Between() {
	h, err := hours.Read("Mo-Fr 08:00-12:00,14:00-19:00; Sa 08:00-12:00; Su off")
	if err != nil {
		fmt.Println(err)
		return
	}
	friday := time.Date(2026, 7, 3, 12, 30, 0, 0, time.UTC)
	for _, s := range h.Between(friday, friday.AddDate(0, 0, 2)) {
		fmt.Println(s.From.Format("Mon 15:04"), "to", s.To.Format("15:04"))
	}
	next, _ := h.NextOpen(friday.AddDate(0, 0, 1), friday.AddDate(0, 0, 14))
	fmt.Println("shut until", next.Format("Mon 15:04"))
	// Output:
	// Fri 14:00 to 19:00
	// Sat 08:00 to 12:00
	// shut until Mon 08:00
}

func ExampleRead() {
	_, err := hours.Read("24/7 diesel only")
	var not *hours.NotUnderstood
	if errors.As(err, &not) {
		fmt.Println(not.Why, "-", not.Text)
	}
	// Output: words - diesel only
}
