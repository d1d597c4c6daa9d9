"""Money: cost lines and cost per square foot, contracts, changes, pay applications, waivers, draws,
interest.
"""
