package earth

// Median gives the middle value, the mean of the two middle ones for an even
// number, 0 for none. It reorders v.
func Median(v []Metres) Metres {
	n := len(v)
	if n == 0 {
		return 0
	}
	upper := nth(v, n/2)
	if n%2 == 1 {
		return upper
	}
	lower := v[0]
	for _, x := range v[:n/2] {
		lower = max(lower, x)
	}
	return (lower + upper) / 2
}

// Quantile gives the value that a share of the others lie below, 0 for none. It reorders v.
func Quantile(v []Metres, share float64) Metres {
	if len(v) == 0 {
		return 0
	}
	return nth(v, int(share*float64(len(v)-1)+0.5))
}

// nth gives the value that stands at k when v is sorted, in linear time (Hoare's
// selection): sorting a million steps would cost more than reading them. What
// stands before k afterwards is not larger.
func nth(v []Metres, k int) Metres {
	lo, hi := 0, len(v)-1
	for lo < hi {
		pivot := v[int(uint(lo+hi)/2)]
		i, j := lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for pivot < v[j] {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}

// StepAt gives the i for which at[i] <= m <= at[i+1], the first or the last step
// for an m outside.
func StepAt(at []Metres, m Metres) int {
	lo, hi := 0, len(at)-1 // at[lo] <= m < at[hi], as far as that is possible
	for hi-lo > 1 {
		if mid := int(uint(lo+hi) / 2); at[mid] <= m {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}
