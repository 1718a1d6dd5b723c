namespace Outcomes.Statistics;

/// <summary>
/// What continuous values leave behind so that sites can be added up: how many, their mean, the sum of squares about it, least and
/// greatest.
/// </summary>
/// <param name="N">How many values.</param>
/// <param name="Mean">Their mean; 0 without a value.</param>
/// <param name="SumOfSquares">Sum of squared distances from the mean.</param>
/// <param name="Least">Least value; infinity without a value.</param>
/// <param name="Greatest">Greatest value; minus infinity without a value.</param>
/// <remarks>
/// Two of them add to what all values together give, but for rounding: with δ the second mean less the first, the mean moves by δ n₂/n and
/// the sum of squares grows by δ² n₁n₂/n. Source: <see cref="Source"/>.
/// </remarks>
public readonly record struct Moments(long N, double Mean, double SumOfSquares, double Least, double Greatest)
{
    public const string Source = "Chan TF, Golub GH, LeVeque RJ. Am Stat 1983;37:242-247";

    /// <summary>No values: adding it changes nothing.</summary>
    public static Moments None { get; } = new(0, 0, 0, double.PositiveInfinity, double.NegativeInfinity);

    /// <summary>
    /// The moments of the values. Two passes: the squares are taken about the mean, so large values close together keep their digits.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite.</exception>
    public static Moments Of(IReadOnlyCollection<double> values)
    {
        if (values.Count == 0)
            return None;
        foreach (var value in values)
            if (!double.IsFinite(value))
                throw new ArgumentOutOfRangeException(nameof(values), value, "values are finite");
        var first = values.Sum() / values.Count;
        // What rounding left of the mean is in the mean of the distances from it.
        var rest = values.Sum(value => value - first) / values.Count;
        var squares = values.Sum(value => (value - first) * (value - first)) - (rest * rest * values.Count);
        return new(values.Count, first + rest, Math.Max(squares, 0), values.Min(), values.Max());
    }

    public static Moments operator +(Moments left, Moments right)
    {
        if (left.N == 0)
            return right;
        if (right.N == 0)
            return left;
        var n = left.N + right.N;
        var delta = right.Mean - left.Mean;
        return new(
            n,
            left.Mean + (delta * right.N / n),
            left.SumOfSquares + right.SumOfSquares + (delta * delta * left.N * right.N / n),
            Math.Min(left.Least, right.Least),
            Math.Max(left.Greatest, right.Greatest));
    }

    /// <summary>The sum of two.</summary>
    public static Moments Add(Moments left, Moments right) => left + right;

    /// <summary>√(sum of squares / (n − 1)); null below two values.</summary>
    public double? StandardDeviation => N < 2 ? null : Math.Sqrt(SumOfSquares / (N - 1));

    /// <summary>
    /// mean ± t s/√n, t the quantile of Student's distribution with n − 1 degrees of freedom; null below two values, and where all are the
    /// same: <see cref="WhyNoInterval"/>.
    /// </summary>
    /// <param name="level">Two-sided confidence level, above 0 and below 1.</param>
    /// <remarks>
    /// Assumes independent values, and either near normal ones or many. For times and saturations, which are skewed, the median with its
    /// interval says more. Source: Student. Biometrika 1908;6:1-25.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">The level is out of range.</exception>
    public Bounds? MeanInterval(double level = 0.95)
    {
        Requires.Level(level);
        if (StandardDeviation is not { } s || WhyNoInterval is not null)
            return null;
        var half = StudentQuantile(N - 1, level) * s / Math.Sqrt(N);
        return new(Mean - half, Mean + half);
    }

    /// <summary>Why the mean has no interval; null where it has one.</summary>
    public string? WhyNoInterval => N < 2 ? NoInterval.OneValue : Least == Greatest ? NoInterval.AlikeValues : null;

    /// <summary>
    /// The t that |T| exceeds with probability 1 − level: with x = ν/(ν + t²) that probability is a beta tail. The library's inverse is
    /// right to 1e-9 only.
    /// </summary>
    private static double StudentQuantile(double degrees, double level)
    {
        var logOdds = LogOdds.Find(
            u => LogOdds.Log(IncompleteBeta.Lower(degrees / 2, 0.5, LogOdds.Proportion(u), LogOdds.Proportion(-u)), 1 - level),
            Math.Log(degrees / 4));
        return Math.Sqrt(degrees * Math.Exp(-logOdds));
    }
}
