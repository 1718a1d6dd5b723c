using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Studies.Monthly;

/// <summary>A signal of one of the tests: its 0-based report and its way.</summary>
internal readonly record struct StudySignal(int Report, bool ForTheWorse);

/// <summary>The tests that are compared, each following the same departments. One instance, one thread.</summary>
internal sealed class SignalTests
{
    public const string Filter = "filter", Odds = "change odds", Joint = "joint";

    private readonly (string Name, MonthlyTestOptions Options, MonthlyWalk Walk)[] _monthly;
    private readonly ChangeOddsOptions _odds = new();
    private readonly ChangeWalk? _walk;

    /// <param name="tests">Name and constants; null constants: the change odds.</param>
    public SignalTests(params ReadOnlySpan<(string Name, MonthlyTestOptions? Options)> tests)
    {
        var likelihood = new CountLikelihood();
        List<(string, MonthlyTestOptions, MonthlyWalk)> monthly = [];
        List<string> names = [];
        foreach (var (name, options) in tests)
        {
            names.Add(name);
            if (options is null)
                _walk = new(_odds);
            else
                monthly.Add((name, options, new(options, likelihood, () => new ChangeGrid(options.ChangeOdds))));
        }
        (_monthly, Names) = ([.. monthly], [.. names]);
    }

    /// <summary>Filter alone, change odds as shipped before, and both together.</summary>
    public static SignalTests Three() =>
        new((Filter, MonthlyTestOptions.FilterAlone), (Odds, null), (Joint, MonthlyTestOptions.Joint));

    public ImmutableArray<string> Names { get; }

    /// <summary>The signals of a department by the name of the test; none where the history holds too few cases.</summary>
    public Dictionary<string, List<StudySignal>> Follow(ReadOnlySpan<EventCount> months, int history)
    {
        var signals = Names.ToDictionary(name => name, _ => new List<StudySignal>());
        var cases = 0;
        foreach (var month in months[..history])
            cases += month.Cases;
        if (cases < _odds.LeastHistoryCases)
            return signals;
        foreach (var (name, _, walk) in _monthly)
        {
            walk.Begin(months[..history]);
            for (var month = history; month < months.Length; month++)
                if (walk.Take(months[month]) is var (worse, _))
                {
                    signals[name].Add(new(month - history, worse));
                    walk.Signal();
                }
        }
        // The change odds share their budget over 36 reports, and are over after a signal.
        if (_walk is not null && months.Length - history <= _odds.Horizon)
            FollowOdds(months, history, signals[Odds]);
        return signals;
    }

    private void FollowOdds(ReadOnlySpan<EventCount> months, int history, List<StudySignal> signals)
    {
        int[] events = new int[history], eligible = new int[history];
        for (var month = 0; month < history; month++)
            (events[month], eligible[month]) = (months[month].Events, months[month].Cases);
        var limit = ChangeLimit.OfHistory(events.Sum(), eligible.Sum(), history, _odds);
        _walk!.Begin(events, eligible);
        for (var month = history; month < months.Length && signals.Count == 0; month++)
        {
            var (worse, better) = _walk.Report(months[month].Events, months[month].Cases);
            if (Math.Log(worse + better) >= limit)
                signals.Add(new(month - history, worse > better));
        }
    }
}
