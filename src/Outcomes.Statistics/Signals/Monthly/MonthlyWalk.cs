using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>
/// Both legs of <see cref="MonthlyTest"/> month by month: first a history, then its reports. Can be used again for another history with the
/// same likelihood, by one thread.
/// </summary>
internal sealed class MonthlyWalk
{
    private readonly MonthlyTestOptions _options;
    private readonly ILevelLikelihood _likelihood;
    private bool _hasSignal;

    /// <summary>Where counts are all that is known.</summary>
    public MonthlyWalk(MonthlyTestOptions options)
        : this(options, new CountLikelihood(), () => new ChangeGrid(options.ChangeOdds))
    {
    }

    /// <summary>Where the chance of each case is known: for every month, history first.</summary>
    public MonthlyWalk(MonthlyTestOptions options, IReadOnlyList<ImmutableArray<double>> expected, int history)
        : this(options, new MixLikelihood(expected, history), () => new MixedGrid(options.ChangeOdds, expected))
    {
    }

    public MonthlyWalk(MonthlyTestOptions options, ILevelLikelihood likelihood, Func<IChangeCells> cells)
    {
        (_options, _likelihood, Filter) = (options, likelihood, new(options));
        Early = options.EarlyLeg is { } early ? new(early, new(options.ChangeOdds, cells())) : null;
    }

    public LevelFilter Filter { get; }

    public EarlyLeg? Early { get; }

    public ILevelLikelihood Likelihood => _likelihood;

    /// <summary>In force now: lower after a signal where the options say so.</summary>
    public MonthlyLimits? Limits { get; private set; }

    /// <summary>Takes in a history; <paramref name="seen"/> hears of every month.</summary>
    public void Begin(ReadOnlySpan<EventCount> history, Action<EventCount>? seen = null)
    {
        var all = default(EventCount);
        _hasSignal = false;
        Filter.Begin(_likelihood.Prior, history.Length);
        foreach (var month in history)
        {
            Filter.Take(_likelihood.Find(Filter.Month, month));
            all += month;
            seen?.Invoke(month);
        }
        Limits = MonthlyLimit.Find(all, history.Length, _options);
        Early?.Begin(history, Filter.Unchanged, Limits.EarlyLogOdds!.Value);
    }

    /// <summary>
    /// Takes in a report: the way of its signal and the leg that gave it, or null. The filter's limit is asked first; the anchor does not
    /// move until <see cref="Signal"/> is called.
    /// </summary>
    /// <param name="count">Events and cases.</param>
    /// <param name="like">A month that had the same case mix, 0-based, history first; null: the next month's own.</param>
    public (bool ForTheWorse, SignalLeg Leg)? Take(EventCount count, int? like = null)
    {
        Filter.Take(_likelihood.Find(like ?? Filter.Month, count));
        var early = Early?.Take(count, like);
        if (Filter.LogOddsWorse >= Limits!.Worse || Filter.LogOddsBetter >= Limits.Better)
            return (Filter.Worse > Filter.Better, SignalLeg.Filter);
        return early is { } worse ? (worse, SignalLeg.Early) : null;
    }

    /// <summary>Moves the anchor to now, ends the early leg, and lowers the limits after a first signal where the options say so.</summary>
    public void Signal()
    {
        Filter.MoveAnchor();
        Early?.Close();
        if (!_hasSignal)
            Raise(-_options.LowerAfterSignal);
        _hasSignal = true;
    }

    /// <summary>Raises all limits of this history, as studies do to compare tests at one budget.</summary>
    public void Raise(double by)
    {
        Limits = Limits! with { Worse = Limits.Worse + by, Better = Limits.Better + by };
        Early?.Raise(by);
    }
}
