"""The demo's folder, made once for all tests."""

from acceptance.demo_folder import demo as demo
