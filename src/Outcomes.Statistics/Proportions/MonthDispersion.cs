namespace Outcomes.Statistics;

/// <summary>How much the months of one or more groups vary, against binomial months of one rate a group.</summary>
/// <param name="Ratio">
/// Pearson's statistic over its degrees of freedom: about 1 where months vary by chance alone; null where there are none to vary.
/// </param>
/// <param name="Degrees">Months with cases, less one a group; at least 1.</param>
public readonly record struct MonthDispersion(double? Ratio, int Degrees)
{
    /// <summary>Where the method comes from; citations from memory.</summary>
    public const string Source = "McCullagh P, Nelder JA. Generalized Linear Models, 1989, section 4.5 (Pearson dispersion); "
        + "Kish L. Survey Sampling, 1965 (design effect)";

    /// <summary>φ: the ratio, at least 1. Counts are divided by it before an interval is made.</summary>
    public double Used => Math.Max(1, Ratio ?? 1);

    /// <summary>Whether the months vary more than chance alone makes them.</summary>
    public bool IsAboveChance => Ratio > 1;

    /// <summary>
    /// Σ (x − n p̃)² / (n p̃ (1 − p̃)) over all months with cases, p̃ = (X + ½)/(N + 1) in each group, over the degrees of freedom.
    /// </summary>
    /// <param name="groups">Months of each group; the rate of a group is its own.</param>
    /// <exception cref="ArgumentOutOfRangeException">A count is impossible.</exception>
    public static MonthDispersion Estimate(params ReadOnlySpan<IReadOnlyList<EventCount>> groups)
    {
        var (sum, months) = (0.0, 0);
        foreach (var group in groups)
        {
            var all = Sum(group);
            var rate = (all.Events + 0.5) / (all.Cases + 1);
            foreach (var (events, cases) in group)
            {
                if (cases == 0)
                    continue;
                var off = events - (cases * rate);
                sum += off * off / (cases * rate * (1 - rate));
                months++;
            }
        }
        var degrees = Math.Max(1, months - groups.Length);
        return new(months > groups.Length ? sum / degrees : null, degrees);
    }

    internal static EventCount Sum(IReadOnlyList<EventCount> months)
    {
        var all = default(EventCount);
        foreach (var month in months)
        {
            if (month.Events < 0 || month.Events > month.Cases)
                throw new ArgumentOutOfRangeException(nameof(months), month, "events lie between 0 and the cases");
            all += month;
        }
        return all;
    }
}
