#include "roof/order.h"

money order_material(const struct order *order, enum method method)
{
    money sum = 0;

    for (size_t i = 0; i < order->count; i++)
        if (order->lines[i].method == method)
            sum += bill_money(order->lines[i].item.ordered, order->lines[i].item.price);
    return sum;
}
