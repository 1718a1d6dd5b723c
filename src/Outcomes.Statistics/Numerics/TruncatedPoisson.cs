namespace Outcomes.Statistics;

/// <summary>A Poisson count with mean x, cut to x − c to x + c (and to 0 and n), for a width c that grows step by step.</summary>
internal sealed class TruncatedPoisson(long x, long n)
{
    private double _below = x == 0 ? 1 : Math.Exp(BinomialTerm.PoissonLog(x, x));
    private double _above = x == 0 ? 1 : Math.Exp(BinomialTerm.PoissonLog(x, x));
    private double _probability = x == 0 ? 1 : Math.Exp(BinomialTerm.PoissonLog(x, x));
    private double _d1, _d2, _d3, _d4;
    private int _c;

    /// <summary>Takes in the next count on each side.</summary>
    public void Widen()
    {
        _c++;
        // P(x + c) and P(x − c) from their neighbours; a mean of 0 has no counts but 0, and there is none below 0.
        _above *= x + _c > n ? 0 : x / (double)(x + _c);
        Add(_above, _c);
        if (_c > x)
            return;
        _below *= (x - _c + 1) / (double)x;
        Add(_below, -_c);
    }

    /// <summary>The probability inside, the mean, and the central moments of the cut count.</summary>
    public (double Probability, double Mean, double M2, double M3, double M4) Central()
    {
        // About x itself first: the deviations are small, so shifting to the mean loses nothing.
        var (a, b, c, d) = (_d1 / _probability, _d2 / _probability, _d3 / _probability, _d4 / _probability);
        return (_probability, x + a, b - (a * a), c - (3 * a * b) + (2 * a * a * a), d - (4 * a * c) + (6 * a * a * b) - (3 * a * a * a * a));
    }

    private void Add(double probability, double deviation)
    {
        _probability += probability;
        _d1 += probability * deviation;
        _d2 += probability * deviation * deviation;
        _d3 += probability * deviation * deviation * deviation;
        _d4 += probability * deviation * deviation * deviation * deviation;
    }
}
