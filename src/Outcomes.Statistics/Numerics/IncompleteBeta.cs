namespace Outcomes.Statistics;

/// <summary>
/// The two tails of a beta distribution, which are those of the binomial one, right to about 1e-13 of themselves up to ten million records.
/// </summary>
/// <remarks>
/// The library's own function stops its continued fraction after a fixed number of terms and takes its front factor from differences of
/// log-gammas, which leaves 1e-8 at a million records; hence this one (docs/decisions/0011-own-tails.md).
/// Source: Didonato AR, Morris AH. ACM Trans Math Softw 1992;18:360-373 (continued fraction, by the modified Lentz method); front factor by
/// <see cref="BinomialTerm"/>.
/// </remarks>
internal static class IncompleteBeta
{
    /// <summary>P(B ≤ p) for B ~ Beta(a, b); with q = 1 − p given apart.</summary>
    public static double Lower(double a, double b, double p, double q) =>
        p <= 0 ? 0 : q <= 0 ? 1 : p * (a + b + 2) < a + 1 ? Fraction(a, b, p, q) : 1 - Fraction(b, a, q, p);

    /// <summary>P(B &gt; p) for B ~ Beta(a, b).</summary>
    public static double Upper(double a, double b, double p, double q) => Lower(b, a, q, p);

    /// <summary>P(X ≥ k) for X ~ Binomial(n, p), k from 1 to n.</summary>
    public static double AtLeast(double k, double n, double p, double q) => Lower(k, n - k + 1, p, q);

    /// <summary>P(X ≤ k) for X ~ Binomial(n, p), k from 0 to n − 1.</summary>
    public static double AtMost(double k, double n, double p, double q) => Lower(n - k, k + 1, q, p);

    private static double Fraction(double a, double b, double p, double q)
    {
        const double tiny = 1e-300;
        var value = Partial(0);
        var (c, d) = (value, 0.0);
        for (var m = 1; m < 1_000_000; m++)
        {
            var over = (a + m - 1) * (a + b + m - 1) * m * (b - m) * p * p / ((a + (2 * m) - 1) * (a + (2 * m) - 1));
            var under = Partial(m);
            d = 1 / Away(under + (over * d));
            c = Away(under + (over / c));
            value *= c * d;
            if (Math.Abs((c * d) - 1) < 1e-15)
                break;
        }
        return BinomialTerm.Of(a, a + b, p, q) * a * b / (a + b) / value;

        // a·q − b·p instead of a − (a + b)·p: near p = 1 the second form has no digits left.
        double Partial(int m) => m + (m == 0 ? 0 : m * (b - m) * p / (a + (2 * m) - 1))
            + ((a + m) * ((a * q) - (b * p) + 1 + (m * (1 + q))) / (a + (2 * m) + 1));

        static double Away(double x) => Math.Abs(x) < tiny ? tiny : x;
    }
}
