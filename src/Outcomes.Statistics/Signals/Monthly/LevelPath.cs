using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Outcomes.Statistics;

/// <summary>
/// What the filter said after every month, kept to look back from later ones: when a change was, what the level of a month was given all
/// months, and whether one month's level is above another's.
/// </summary>
internal sealed class LevelPath(MonthlyTestOptions options, int history, ILevelLikelihood likelihood)
{
    /// <summary>The least chance of a range of months.</summary>
    private const double RangeChance = 0.8;

    /// <summary>Levels with less weight than this are left out of comparisons of months; all of them together stay below 1e-10.</summary>
    private const double Negligible = 1e-12;

    private readonly List<(Vector256<double>[] Filtered, Vector256<double>[] Likelihood, double Scale)> _months = [];

    public Vector256<double>[] Last => _months[^1].Filtered;

    /// <summary>Keeps the month that the filter has just taken in.</summary>
    public void Add(LevelFilter filter, Vector256<double>[] month) => _months.Add((filter.Copy(), month, filter.Scale));

    /// <summary>When the last change since the anchor was, given that there was one this way.</summary>
    /// <param name="last">The latest month that may be looked at, 0-based.</param>
    /// <param name="anchor">The first month before which the change may have been.</param>
    /// <param name="worse">The way.</param>
    public MonthsOfChange FindChange(int last, int anchor, bool worse)
    {
        var chances = new double[last + 1 - anchor];
        Vector256<double>[] up = New(), down = New(), after = New();
        Array.Fill(after, Vector256<double>.One);
        for (var month = last; month >= anchor; month--)
        {
            Jump(month, up, down);
            chances[month - anchor] = SumOfProducts(worse ? up : down, after);
            var stay = Vector256.Create((1 - LevelGrid.Jumps(options, month, history).Hazard) / _months[month].Scale);
            for (var level = 0; level < LevelGrid.Levels; level++)
                after[level] *= _months[month].Likelihood[level] * stay;
        }
        return Range(chances, anchor);
    }

    /// <summary>The level of every month given all months, and the chance that it changed just before it.</summary>
    public ImmutableArray<MonthlyLevel> Smooth()
    {
        var levels = new MonthlyLevel[_months.Count];
        Vector256<double>[] after = New(), product = New(), up = New(), down = New();
        Array.Fill(after, Vector256<double>.One);
        for (var month = _months.Count - 1; month >= 0; month--)
        {
            var (filtered, of, scale) = _months[month];
            for (var level = 0; level < LevelGrid.Levels; level++)
                product[level] = filtered[level] * after[level];
            Jump(month, up, down);
            levels[month] = LevelDistribution.OfMonth(product, likelihood, SumOfProducts(up, after), SumOfProducts(down, after));

            var (hazard, share) = LevelGrid.Jumps(options, month, history);
            for (var level = 0; level < LevelGrid.Levels; level++)
                product[level] = of[level] * after[level] * Vector256.Create(1 / scale);
            // Backwards in time a jump up leads down.
            LevelGrid.Jump(product, down, up, options.JumpRatio);
            for (var level = 0; level < LevelGrid.Levels; level++)
                after[level] = (Vector256.Create(1 - hazard) * product[level]) + (Vector256.Create(hazard * share) * up[level])
                    + (Vector256.Create(hazard * (1 - share)) * down[level]);
        }
        return [.. levels];
    }

    /// <summary>
    /// For every month from <paramref name="from"/> to <paramref name="to"/>: the chance that its level is above, and below, that of
    /// <paramref name="from"/>, given the months up to it.
    /// </summary>
    public LevelComparison[] Compare(int from, int to)
    {
        var (above, below) = (new double[to - from + 1], new double[to - from + 1]);
        Vector256<double>[] states = New(), up = New(), down = New();
        for (var origin = 0; origin < LevelGrid.Levels; origin++)
        {
            var start = _months[from].Filtered[origin];
            if (LevelGrid.Sum(start) < Negligible)
                continue;
            Array.Clear(states);
            states[origin] = start;
            for (var month = from + 1; month <= to; month++)
            {
                Carry(month, states, up, down);
                above[month - from] += LevelGrid.Sum(states.AsSpan(origin + 1));
                below[month - from] += LevelGrid.Sum(states.AsSpan(0, origin));
            }
        }
        return [.. above.Zip(below, (worse, better) => new LevelComparison(worse, better))];
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Carry(int month, Vector256<double>[] states, Vector256<double>[] up, Vector256<double>[] down)
    {
        var (hazard, share) = LevelGrid.Jumps(options, month, history);
        var (_, of, scale) = _months[month];
        LevelGrid.Jump(states, up, down, options.JumpRatio);
        var (stay, rise, fall) = (Vector256.Create((1 - hazard) / scale), Vector256.Create(hazard * share / scale),
            Vector256.Create(hazard * (1 - share) / scale));
        for (var level = 0; level < LevelGrid.Levels; level++)
            states[level] = ((stay * states[level]) + (rise * up[level]) + (fall * down[level])) * of[level];
    }

    /// <summary>The parts of a month's states that jumped up, and down, just before it.</summary>
    private void Jump(int month, Vector256<double>[] up, Vector256<double>[] down)
    {
        if (month == 0)
        {
            Array.Clear(up);
            Array.Clear(down);
            return;
        }
        LevelGrid.Jump(_months[month - 1].Filtered, up, down, options.JumpRatio);
        var (hazard, share) = LevelGrid.Jumps(options, month, history);
        var (_, of, scale) = _months[month];
        var (rise, fall) = (Vector256.Create(hazard * share / scale), Vector256.Create(hazard * (1 - share) / scale));
        for (var level = 0; level < LevelGrid.Levels; level++)
        {
            up[level] *= of[level] * rise;
            down[level] *= of[level] * fall;
        }
    }

    /// <summary>
    /// The likeliest month and the shortest run of months with it that holds 80 %; of several as short the one that holds most.
    /// </summary>
    private static MonthsOfChange Range(double[] chances, int anchor)
    {
        var running = new double[chances.Length + 1];
        var likeliest = 0;
        for (var month = 0; month < chances.Length; month++)
        {
            running[month + 1] = running[month] + chances[month];
            if (chances[month] > chances[likeliest])
                likeliest = month;
        }
        var (all, from, to) = (running[^1], 0, chances.Length - 1);
        // Every run that starts no later than the likeliest month ends with the first month that fills it.
        for (var (first, last) = (0, likeliest); first <= likeliest; first++)
        {
            while (last < chances.Length - 1 && Held(first, last) < RangeChance * all)
                last++;
            if (Held(first, last) >= RangeChance * all
                && (last - first < to - from || (last - first == to - from && Held(first, last) > Held(from, to))))
                (from, to) = (first, last);
        }
        return new(anchor + likeliest, anchor + from, anchor + to, Math.Min(1, Held(from, to) / all));

        double Held(int first, int last) => running[last + 1] - running[first];
    }

    private static double SumOfProducts(Vector256<double>[] left, Vector256<double>[] right)
    {
        var sum = Vector256<double>.Zero;
        for (var level = 0; level < LevelGrid.Levels; level++)
            sum += left[level] * right[level];
        return LevelGrid.Sum(sum);
    }

    private static Vector256<double>[] New() => new Vector256<double>[LevelGrid.Levels];
}
