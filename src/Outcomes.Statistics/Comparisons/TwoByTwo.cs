namespace Outcomes.Statistics;

/// <summary>All tables with the margins of one seen, and their probabilities at a given odds ratio (noncentral hypergeometric).</summary>
internal sealed class TwoByTwo
{
    private readonly double[] _logs;
    private readonly int _seen;

    /// <exception cref="ArgumentOutOfRangeException">A group has more than a million records.</exception>
    public TwoByTwo(Count first, Count second)
    {
        const long most = 1_000_000;
        if (first.Eligible > most || second.Eligible > most)
            throw new ArgumentOutOfRangeException(nameof(first), Math.Max(first.Eligible, second.Eligible),
                "exact tables take at most a million records a group");
        double n1 = first.Eligible, n2 = second.Eligible, m = first.Met + second.Met;
        Least = (long)Math.Max(0, m - n2);
        Greatest = (long)Math.Min(n1, m);
        _seen = (int)(first.Met - Least);
        _logs = new double[Greatest - Least + 1];
        // Logarithms of C(n₁, k) C(n₂, m − k) relative to the table seen, step by step away from it.
        for (var i = _seen + 1; i < _logs.Length; i++)
            _logs[i] = _logs[i - 1] + Step(Least + i - 1);
        for (var i = _seen - 1; i >= 0; i--)
            _logs[i] = _logs[i + 1] - Step(Least + i);

        double Step(double k) => Math.Log((n1 - k) * (m - k) / ((k + 1) * (n2 - m + k + 1)));
    }

    /// <summary>The fewest that the margins let be met in the first group.</summary>
    public long Least { get; }

    /// <summary>The most.</summary>
    public long Greatest { get; }

    /// <summary>P(as many as seen, or more) at the log odds ratio t, what was seen itself counted by a weight.</summary>
    public double AtLeast(double t, double weight) => Part(t, i => i > _seen ? 1 : i == _seen ? weight : 0);

    /// <summary>P(as many as seen, or fewer).</summary>
    public double AtMost(double t, double weight) => Part(t, i => i < _seen ? 1 : i == _seen ? weight : 0);

    /// <summary>The mean at t less the number seen: 0 at the likeliest odds ratio.</summary>
    public double MeanMinusSeen(double t) => Part(t, i => i - _seen);

    /// <summary>The probability of the table seen when the odds are equal.</summary>
    public double Seen => Part(0, i => i == _seen ? 1 : 0);

    /// <summary>The probability of all tables no more likely than the one seen when the odds are equal.</summary>
    public double NoMoreLikely => Part(0, i => _logs[i] <= Math.Log(BinomialTest.Slack) ? 1 : 0);

    private double Part(double t, Func<int, double> value)
    {
        var top = double.NegativeInfinity;
        for (var i = 0; i < _logs.Length; i++)
            top = Math.Max(top, _logs[i] + (t * (i - _seen)));
        var (part, all) = (0.0, 0.0);
        for (var i = 0; i < _logs.Length; i++)
        {
            var term = Math.Exp(_logs[i] + (t * (i - _seen)) - top);
            all += term;
            part += term * value(i);
        }
        return part / all;
    }
}
