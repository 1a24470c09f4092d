package guard

import (
	"net"
	"os"
	"strings"
)

// hostsOf are the names under which a server is asked for: the loopback's, and where others may ask
// the machine's own addresses.
func hostsOf(addr net.Addr, remote bool) []string {
	_, port, err := net.SplitHostPort(addr.String())
	if err != nil {
		return nil
	}
	names := []string{"localhost", "127.0.0.1", "::1"}
	if remote {
		names = append(names, ownNames()...)
	}
	var hosts []string
	for _, n := range names {
		hosts = append(hosts, strings.ToLower(net.JoinHostPort(n, port)))
		if port == "80" {
			hosts = append(hosts, strings.ToLower(n))
		}
	}
	return hosts
}

func ownNames() []string {
	var names []string
	if name, err := os.Hostname(); err == nil {
		names = append(names, name, name+".local")
	}
	addresses, _ := net.InterfaceAddrs()
	for _, a := range addresses {
		if ip, ok := a.(*net.IPNet); ok {
			names = append(names, ip.IP.String())
		}
	}
	return names
}
