package words

// lag is what the estimate of the lag leaves open.
func lag() map[string]say {
	return map[string]say{}
}
