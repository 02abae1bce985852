package route

// median gives the middle value, the mean of the two middle ones for an even
// number, 0 for none. It reorders v.
func median(v []Metres) Metres {
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
