"""How the interface describes itself: what endpoints say of their operations, and the OpenAPI document made of it."""
