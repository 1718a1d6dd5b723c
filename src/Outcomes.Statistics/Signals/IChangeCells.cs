namespace Outcomes.Statistics;

/// <summary>
/// The cells of <see cref="ChangeOdds"/>: a baseline rate θ and a month-to-month variation ρ each, with the probabilities of a month in
/// every cell, unchanged and changed. <see cref="ChangeGrid"/> knows counts alone, <see cref="MixedGrid"/> the expected chance of each
/// case.
/// </summary>
internal interface IChangeCells
{
    /// <summary>Cells, rounded up to a multiple of 4.</summary>
    public int Cells { get; }

    /// <summary>Cells that carry weight.</summary>
    public int Used { get; }

    /// <summary>Odds ratios for the worse, then as many for the better.</summary>
    public int Alternatives { get; }

    /// <summary>Centres the cells on a history and sets the log weights to the prior.</summary>
    public void Centre(long bad, long eligible, int months, Span<double> logWeights);

    /// <summary>Adds the log probability of a month, unchanged, to the log weight of every cell.</summary>
    /// <param name="month">0-based, history first.</param>
    /// <param name="bad">Its bad events.</param>
    /// <param name="eligible">Its eligible cases.</param>
    /// <param name="logWeights">A weight a cell.</param>
    public void Weigh(int month, long bad, long eligible, Span<double> logWeights);

    /// <summary>Two rows whose product, cell by cell, is how many times likelier a month is if the odds have changed.</summary>
    public (double[] Bad, int BadFrom, double[] Good, int GoodFrom) Likelihood(int alternative, int month, long bad, long eligible);

    /// <summary>Bad events that the cases of a month would have at the history's rate; null for counts alone.</summary>
    public double? Expected(int month);
}
