namespace Outcomes.Statistics;

/// <summary>
/// The second leg of <see cref="MonthlyTest"/>: the change odds in the first reports, as long as nothing has been signalled and the filter
/// gives the history a good chance of having held no change.
/// </summary>
internal sealed class EarlyLeg(EarlyLegOptions options, ChangeWalk walk)
{
    private bool _isOpen;
    private int _report;
    private double _limit;

    /// <summary>ln S after the last report; null once it has no say any more.</summary>
    public double? LogOdds { get; private set; }

    /// <summary>The part of S that speaks for a change for the worse, 0 to 1.</summary>
    public double? WorseShare { get; private set; }

    /// <summary>How far ln S lies above its limit; null where it may not decide.</summary>
    public double? Excess { get; private set; }

    /// <summary>Takes in the history.</summary>
    /// <param name="history">Events and cases of each month.</param>
    /// <param name="unchanged">What chance the filter gives it of having held no change.</param>
    /// <param name="limit">What ln S must reach.</param>
    public void Begin(ReadOnlySpan<EventCount> history, double unchanged, double limit)
    {
        int[] events = new int[history.Length], cases = new int[history.Length];
        for (var month = 0; month < history.Length; month++)
            (events[month], cases[month]) = (history[month].Events, history[month].Cases);
        walk.Begin(events, cases);
        _limit = limit;
        (_isOpen, _report) = (unchanged >= options.LeastUnchanged, 0);
        (LogOdds, WorseShare, Excess) = (null, null, null);
    }

    /// <summary>Takes in a report: true for a signal for the worse, false for the better, null for none.</summary>
    /// <param name="count">Events and cases.</param>
    /// <param name="like">A month that had the same case mix; null: the next month's own.</param>
    public bool? Take(EventCount count, int? like = null)
    {
        if (_report >= Math.Max(options.WorseReports, options.BetterReports))
        {
            (LogOdds, WorseShare, Excess) = (null, null, null);
            return null;
        }
        var (worse, better) = walk.Report(count.Events, count.Cases, like);
        (LogOdds, WorseShare) = (Math.Log(worse + better), worse / (worse + better));
        var isWorse = worse > better;
        var mayDecide = _isOpen && _report < (isWorse ? options.WorseReports : options.BetterReports);
        _report++;
        Excess = mayDecide ? LogOdds - _limit : null;
        return Excess >= 0 ? isWorse : null;
    }

    /// <summary>Raises its limit, as studies do to compare tests at one budget.</summary>
    public void Raise(double by) => _limit += by;

    /// <summary>No further signal: one has been given.</summary>
    public void Close() => _isOpen = false;

    /// <summary>Where it stands, to be taken up again with <see cref="Restore"/> under the same history.</summary>
    public (double[][] Walk, bool IsOpen, int Report) Save() => (walk.Save(), _isOpen, _report);

    public void Restore((double[][] Walk, bool IsOpen, int Report) saved)
    {
        walk.Restore(saved.Walk);
        (_isOpen, _report) = (saved.IsOpen, saved.Report);
    }
}
