"""Timber: tables and design values."""
