using Bogus;

namespace Outcomes.Synthetic;

/// <summary>Draws in whole numbers only: no logarithm or power whose last digit could differ between processors.</summary>
internal static class Draws
{
    /// <summary>True with the given chance in thousandths.</summary>
    public static bool Chance(this Randomizer draw, int perMille) => draw.Int(0, 999) < perMille;

    /// <summary>One of the values, with chances in proportion to their weights.</summary>
    public static T Weighted<T>(this Randomizer draw, params ReadOnlySpan<(int Weight, T Value)> choices)
    {
        var total = 0;
        foreach (var (weight, _) in choices)
            total += weight;
        var left = draw.Int(0, total - 1);
        foreach (var (weight, value) in choices)
        {
            if (left < weight)
                return value;
            left -= weight;
        }
        throw new InvalidOperationException("The weights of a draw do not add up.");
    }

    /// <summary>A bell-shaped draw from <paramref name="minimum"/> to <paramref name="maximum"/>: the mean of three even ones.</summary>
    public static int Bell(this Randomizer draw, int minimum, int maximum) =>
        (draw.Int(minimum, maximum) + draw.Int(minimum, maximum) + draw.Int(minimum, maximum)) / 3;
}
