"""TODO-INIT"""
