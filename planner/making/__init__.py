"""How each part is made: holding, machines, the steps of a feature, their order, call-outs."""
