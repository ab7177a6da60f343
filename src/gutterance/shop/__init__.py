"""The shop's own rules and stock: how it fits corners, hangs gutter, cuts pipe, what is on the shelf."""

from gutterance.shop.loading import ShopError, load_shop
from gutterance.shop.models import Ending, PipeShape, Profile, Shop

__all__ = ["Ending", "PipeShape", "Profile", "Shop", "ShopError", "load_shop"]
