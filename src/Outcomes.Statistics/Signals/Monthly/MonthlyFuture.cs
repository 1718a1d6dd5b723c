using System.Collections.Immutable;
using System.Runtime.Intrinsics;

namespace Outcomes.Statistics;

/// <summary>Draws months that may follow, from what the filter knows of level and variation.</summary>
internal sealed class MonthlyFuture
{
    /// <summary>The last months whose cases future ones have.</summary>
    private const int Like = 12;

    private readonly Vector256<double>[] _states;
    private readonly double[] _running = new double[(LevelGrid.Levels * 4) + 1];
    private readonly EventCount[] _like;
    private readonly int _likeFrom;
    private readonly MixLikelihood? _mix;
    private readonly Dictionary<(int Month, double Shift), double> _means = [];
    private double _rate, _shift, _variation;

    /// <param name="walk">After the last month.</param>
    /// <param name="months">Every month so far.</param>
    /// <param name="named">The event rate to come.</param>
    /// <param name="mix">Where the chance of each case is known.</param>
    public MonthlyFuture(MonthlyWalk walk, ImmutableArray<EventCount> months, double named, MixLikelihood? mix)
    {
        _states = walk.Filter.Copy();
        _mix = mix;
        _likeFrom = Math.Max(0, months.Length - Like);
        _like = [.. months[_likeFrom..]];
        for (var state = 0; state < _running.Length - 1; state++)
            _running[state + 1] = _running[state] + _states[state / 4][state % 4];
        Span<double> running = stackalloc double[LevelGrid.Levels + 1], edges = stackalloc double[LevelGrid.Levels + 1];
        LevelDistribution.Sum(_states, running);
        for (var edge = 0; edge < edges.Length; edge++)
            edges[edge] = (mix is null ? LevelGrid.LowestRate : LevelGrid.LowestShift) + (LevelGrid.Step * (edge - 0.5));
        var aim = Math.Log(named / (1 - named));
        Distance = (mix is null ? aim : Shift(aim, walk.Likelihood.Edges, edges)) - LevelDistribution.LogOddsAt(0.5, running, edges);
    }

    /// <summary>From the median level to the named one, in log odds.</summary>
    public double Distance { get; }

    /// <summary>Draws the level and the variation of a continuation.</summary>
    public void Begin(Func<double> uniform)
    {
        var target = uniform() * _running[^1];
        var state = Array.BinarySearch(_running, target);
        state = Math.Clamp(state < 0 ? ~state - 1 : state, 0, _running.Length - 2);
        _shift = (_mix is null ? LevelGrid.LowestRate : LevelGrid.LowestShift) + (LevelGrid.Step * (state / 4)) + Distance;
        (_rate, _variation) = (LogOdds.Proportion(_shift), LevelGrid.Variations[state % 4]);
    }

    /// <summary>A month, and which past month it takes its cases from.</summary>
    public (EventCount Count, int Like) Draw(Func<double> uniform)
    {
        var like = (int)(uniform() * _like.Length);
        var cases = _like[like].Cases;
        var variation = uniform() < LevelGrid.OddShare ? LevelGrid.OddVariation : _variation;
        var size = (1 / variation) - 1;
        var mean = _mix is null ? _rate : Mean(_likeFrom + like);
        var events = 0;
        // Pólya's urn: each event makes the next one in its month likelier.
        for (var i = 0; i < cases; i++)
            if (uniform() * (size + i) < (mean * size) + events)
                events++;
        return (new(events, cases), _likeFrom + like);
    }

    private double Mean(int month)
    {
        if (!_means.TryGetValue((month, _shift), out var mean))
            _means[(month, _shift)] = mean = _mix!.MeanAt(month, _shift);
        return mean;
    }

    /// <summary>The shift at which the history's cases have these log odds, between two edges by proportion.</summary>
    private static double Shift(double aim, ReadOnlySpan<double> logOdds, ReadOnlySpan<double> shifts)
    {
        var bin = 0;
        while (bin < logOdds.Length - 2 && logOdds[bin + 1] <= aim)
            bin++;
        return shifts[bin] + ((aim - logOdds[bin]) / (logOdds[bin + 1] - logOdds[bin]) * (shifts[bin + 1] - shifts[bin]));
    }
}
