#include <bellmouth/quantity.hpp>
