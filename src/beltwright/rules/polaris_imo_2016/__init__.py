"""IMO MSC.1/Circ.1519 (6 June 2016): POLARIS, an index of the risk of operating in a given ice regime.

Decision support, not a go/no-go tool: the circular says so itself, and so does everything made from it here.
"""
