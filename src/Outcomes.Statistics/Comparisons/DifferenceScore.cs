namespace Outcomes.Statistics;

/// <summary>The score intervals for a difference of two independent proportions.</summary>
public static class DifferenceScore
{
    public const string MiettinenNurminenMethod = "miettinen_nurminen";

    public const string MiettinenNurminenSource =
        "Miettinen O, Nurminen M. Stat Med 1985;4:213-226; Newcombe RG. Stat Med 1998;17:873-890, method 6";

    public const string MeeMethod = "mee";

    public const string MeeSource = "Mee RW. Biometrics 1984;40:1175-1176; Newcombe RG. Stat Med 1998;17:873-890, method 5";

    /// <summary>
    /// The differences δ with |p₁ − p₂ − δ| = z √((p̃₁q̃₁/n₁ + p̃₂q̃₂/n₂) N/(N − 1)), where p̃₁ = p̃₂ + δ are the likeliest
    /// proportions that differ by δ and N = n₁ + n₂.
    /// </summary>
    /// <returns>Fractions from −1 to 1; null when either group has no eligible record.</returns>
    /// <remarks>
    /// Assumes two independent groups of independent records. It covers close to its level even in small groups, and agrees with the χ²
    /// test of no difference but for the factor N/(N − 1). Source: <see cref="MiettinenNurminenSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static DifferenceEstimate? MiettinenNurminen(Count first, Count second, double level = 0.95)
    {
        var n = (double)first.Eligible + second.Eligible;
        return Estimate(first, second, level, n / Math.Max(n - 1, 1), MiettinenNurminenMethod, MiettinenNurminenSource);
    }

    /// <summary>The same without the factor N/(N − 1).</summary>
    /// <inheritdoc cref="MiettinenNurminen" path="/returns"/>
    /// <exception cref="ArgumentOutOfRangeException">A count or the level is out of range.</exception>
    public static DifferenceEstimate? Mee(Count first, Count second, double level = 0.95) =>
        Estimate(first, second, level, 1, MeeMethod, MeeSource);

    // Two digits become thirty in four of Newton's steps; rounding may keep the last one moving.
    private const int MostSteps = 8;

    private static DifferenceEstimate? Estimate(Count first, Count second, double level, double factor, string method, string source)
    {
        Requires.Counts(first);
        Requires.Counts(second);
        var z = Normal.TwoSided(level);
        if (first.Eligible == 0 || second.Eligible == 0)
            return null;
        var (left, right) = Difference.ByTheRarer(first, second);
        var value = ((double)left.Met / left.Eligible) - ((double)right.Met / right.Eligible);
        var error = Math.Sqrt(Spread(left) + Spread(right));
        var lower = value == -1 ? -1 : value - Distance(1 + value, -1);
        var upper = value == 1 ? 1 : value + Distance(1 - value, 1);
        return new(value, Math.Clamp(lower, -1, value), Math.Clamp(upper, value, 1), level, method, source, first, second);

        // Sought as a share of what lies between the value and −1 or 1, on the log odds of that share: near the value and near the edge
        // the end is then as sharp as in the middle.
        double Distance(double room, int way)
        {
            var start = Math.Clamp(z * error / room, 1e-12, 0.5);
            return room * LogOdds.Root((share, _) => Score(left, right, value + (way * room * share), room * share, factor) - z, start);
        }

        static double Spread(Count count)
        {
            var p = (count.Met + 0.5) / (count.Eligible + 1);
            return p * (1 - p) / count.Eligible;
        }
    }

    /// <summary>The size of the score statistic of the difference δ: rises with its distance from the value, to infinity.</summary>
    private static double Score(Count first, Count second, double delta, double distance, double factor)
    {
        double n1 = first.Eligible, n2 = second.Eligible;
        var p2 = Restricted(first, second, delta);
        var p1 = Math.Clamp(p2 + delta, 0, 1);
        var variance = factor * ((p1 * (1 - p1) / n1) + (p2 * (1 - p2) / n2));
        return distance == 0 ? 0 : Math.Min(distance / Math.Sqrt(variance), 1e100);
    }

    /// <summary>The second proportion of the likeliest pair that differs by δ: the root of a cubic, sharpened by Newton's method.</summary>
    /// <remarks>Source of the closed form: Farrington CP, Manning G. Stat Med 1990;9:1447-1454.</remarks>
    private static double Restricted(Count first, Count second, double delta)
    {
        double x1 = first.Met, n1 = first.Eligible, x2 = second.Met, n2 = second.Eligible;
        var a = n1 + n2;
        var b = ((n1 + (2 * n2)) * delta) - a - x1 - x2;
        var c = (((n2 * delta) - a - (2 * x2)) * delta) + x1 + x2;
        var d = x2 * delta * (1 - delta);
        var shift = b / (3 * a);
        var v = (shift * shift * shift) - (b * c / (6 * a * a)) + (d / (2 * a));
        var u = Math.CopySign(Math.Sqrt(Math.Max((shift * shift) - (c / (3 * a)), 0)), v);
        var angle = u == 0 ? 0 : Math.Acos(Math.Clamp(v / (u * u * u), -1, 1));
        var (least, most) = (Math.Max(0, -delta), Math.Min(1, 1 - delta));
        var p = Math.Clamp((2 * u * Math.Cos((Math.PI + angle) / 3)) - shift, least, most);
        for (var step = 0; step < MostSteps; step++)
        {
            var slope = (((3 * a * p) + (2 * b)) * p) + c;
            var next = p - ((((((a * p) + b) * p) + c) * p + d) / slope);
            if (!(next >= least && next <= most) || next == p)
                break;
            p = next;
        }
        return p;
    }
}
