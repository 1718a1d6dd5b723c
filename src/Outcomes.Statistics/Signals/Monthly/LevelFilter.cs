using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Outcomes.Statistics;

/// <summary>
/// The level filter of <see cref="MonthlyTest"/>, month by month: the chance of every level and variation given all months so far, split by
/// the last change since the anchor (none, up, down). Can be used again, by one thread.
/// </summary>
/// <remarks>The forward recursion of a hidden Markov model whose state may jump, as in change-point filters.</remarks>
internal sealed class LevelFilter(MonthlyTestOptions options)
{
    private readonly Vector256<double>[] _none = New(), _up = New(), _down = New(), _unchanged = New();
    private readonly Vector256<double>[] _jumping = New(), _jumpedUp = New(), _jumpedDown = New();
    private int _history;

    /// <summary>The next month, 0-based, history first.</summary>
    public int Month { get; private set; }

    /// <summary>What the probabilities of the last month summed to before they were made to sum to 1.</summary>
    public double Scale { get; private set; }

    /// <summary>Chance that the last change since the anchor was up: for the worse.</summary>
    public double Worse { get; private set; }

    /// <summary>Chance that it was down: for the better.</summary>
    public double Better { get; private set; }

    /// <summary>Chance of no change since the anchor.</summary>
    public double Neither { get; private set; }

    /// <summary>Chance that the level never changed, given the months so far; of the history once that is over.</summary>
    public double Unchanged { get; private set; }

    public double LogOddsWorse => LogOdds(Worse, Neither + Better);

    public double LogOddsBetter => LogOdds(Better, Neither + Worse);

    /// <summary>Starts from the prior.</summary>
    public void Begin(ReadOnlySpan<double> prior, int history)
    {
        (_history, Month) = (history, 0);
        var sum = 0.0;
        foreach (var weight in prior)
            sum += weight;
        for (var level = 0; level < LevelGrid.Levels; level++)
        {
            _unchanged[level] = _none[level] = LevelGrid.VariationWeights * Vector256.Create(prior[level] / sum);
            _up[level] = _down[level] = Vector256<double>.Zero;
        }
        (Worse, Better, Neither, Unchanged) = (0, 0, 1, 1);
    }

    /// <summary>Takes in a month by its probability at every level and variation.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Take(ReadOnlySpan<Vector256<double>> likelihood)
    {
        var (hazard, up) = LevelGrid.Jumps(options, Month, _history);
        var (jump, stay) = (Vector256.Create(hazard), Vector256.Create(1 - hazard));
        for (var level = 0; level < LevelGrid.Levels; level++)
        {
            _jumping[level] = jump * (_none[level] + _up[level] + _down[level]);
            _none[level] *= stay;
            _up[level] *= stay;
            _down[level] *= stay;
        }
        var isReport = Month >= _history;
        LevelGrid.Jump(_jumping, _jumpedUp, _jumpedDown, options.JumpRatio);
        Add(isReport ? _up : _none, _jumpedUp, up);
        Add(isReport ? _down : _none, _jumpedDown, 1 - up);
        Neither = Weigh(_none, likelihood);
        Worse = Weigh(_up, likelihood);
        Better = Weigh(_down, likelihood);
        Scale = Neither + Worse + Better;
        var scale = Vector256.Create(1 / Scale);
        for (var level = 0; level < LevelGrid.Levels; level++)
        {
            _none[level] *= scale;
            _up[level] *= scale;
            _down[level] *= scale;
        }
        (Neither, Worse, Better) = (Neither / Scale, Worse / Scale, Better / Scale);
        if (!isReport)
            KeepUnchanged(likelihood, stay * scale);
        Month++;
    }

    /// <summary>Moves the anchor to now: what was known of the level is kept, the last change is counted anew.</summary>
    public void MoveAnchor()
    {
        for (var level = 0; level < LevelGrid.Levels; level++)
        {
            _none[level] += _up[level] + _down[level];
            _up[level] = _down[level] = Vector256<double>.Zero;
        }
        (Worse, Better, Neither) = (0, 0, 1);
    }

    /// <summary>The chance of every level and variation.</summary>
    public Vector256<double>[] Copy()
    {
        var copy = New();
        for (var level = 0; level < LevelGrid.Levels; level++)
            copy[level] = _none[level] + _up[level] + _down[level];
        return copy;
    }

    /// <summary>Takes up where another filter with the same options stands.</summary>
    public void Follow(LevelFilter other)
    {
        other._none.CopyTo(_none, 0);
        other._up.CopyTo(_up, 0);
        other._down.CopyTo(_down, 0);
        (_history, Month, Unchanged) = (other._history, other.Month, other.Unchanged);
        (Worse, Better, Neither, Scale) = (other.Worse, other.Better, other.Neither, other.Scale);
    }

    private void KeepUnchanged(ReadOnlySpan<Vector256<double>> likelihood, Vector256<double> factor)
    {
        for (var level = 0; level < LevelGrid.Levels; level++)
            _unchanged[level] *= likelihood[level] * factor;
        Unchanged = LevelGrid.Sum(_unchanged);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Add(Vector256<double>[] to, Vector256<double>[] jumped, double share)
    {
        var part = Vector256.Create(share);
        for (var level = 0; level < LevelGrid.Levels; level++)
            to[level] += part * jumped[level];
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static double Weigh(Vector256<double>[] states, ReadOnlySpan<Vector256<double>> likelihood)
    {
        for (var level = 0; level < LevelGrid.Levels; level++)
            states[level] *= likelihood[level];
        return LevelGrid.Sum(states);
    }

    /// <summary>ln(chance/rest), kept finite.</summary>
    private static double LogOdds(double chance, double rest) => Math.Log((chance + 1e-300) / (rest + 1e-300));

    private static Vector256<double>[] New() => new Vector256<double>[LevelGrid.Levels];
}
