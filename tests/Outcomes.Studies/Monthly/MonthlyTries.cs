using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Outcomes.Statistics;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.Monthly;

/// <summary>
/// Other tests at one budget: each gets, in each cell, the constant on all its limits with which six stable measures give a signal in 10 %
/// of departments at the worst of three correlations.
/// </summary>
internal static class MonthlyTries
{
    /// <summary>Departments of a stable cell and rate, and of a changed cell.</summary>
    public const int Departments = 2_500;

    /// <summary>Stable departments of a cell and rate on fresh seeds; half as many changed ones.</summary>
    public const int FreshDepartments = 6_000;

    /// <summary>Put together from what the first tries gained and lost.</summary>
    private const string Together =
        "F: A and shorter jumps (0.65) and better early for 21 reports and the gate at 0.90 and limits 0.9 lower";

    /// <summary>H with a limit of its own, fitted to other seeds than those it is shown on.</summary>
    public const string Fitted = "H with its own limit";

    private const double Budget = 0.10;

    public static ImmutableArray<(double Volume, int History)> Cells { get; } = [(10, 12), (10, 24), (25, 24), (50, 24)];

    private static MonthlyTestOptions Joint => MonthlyTestOptions.Joint;

    /// <summary>Name, constants (null: the change odds), and whether it was worth following beyond ten cases a month.</summary>
    public static ImmutableArray<(string Name, MonthlyTestOptions? Options, bool Everywhere)> All { get; } =
    [
        (SignalTests.Filter, MonthlyTestOptions.FilterAlone, true),
        (SignalTests.Odds, null, true),
        (SignalTests.Joint, Joint, true),
        ("A: first report 1/10", Joint with { FirstHazard = 0.1 }, true),
        ("B: jumps of the filter alone", Joint with { JumpRatio = 0.75 }, false),
        ("C: better early for 24 reports", Joint with { EarlyLeg = new() { BetterReports = 24 } }, true),
        ("D: later hazard 1/30", Joint with { LaterHazard = 1.0 / 30 }, false),
        ("E: limits 0.7 lower after a signal", Joint with { LowerAfterSignal = 0.7 }, true),
        ("A + C + E", Joint with { FirstHazard = 0.1, EarlyLeg = new() { BetterReports = 24 }, LowerAfterSignal = 0.7 }, true),
        ("A + B + C + E",
            Joint with { FirstHazard = 0.1, JumpRatio = 0.75, EarlyLeg = new() { BetterReports = 24 }, LowerAfterSignal = 0.7 }, false),
        ("A + C + E and later hazard 1/60",
            Joint with { FirstHazard = 0.1, LaterHazard = 1.0 / 60, EarlyLeg = new() { BetterReports = 24 }, LowerAfterSignal = 0.7 },
            false),
        (Together, Joint with
        {
            FirstHazard = 0.1,
            JumpRatio = 0.65,
            EarlyLeg = new() { BetterReports = 21, LeastUnchanged = 0.90 },
            LowerAfterSignal = 0.9,
        }, true),
        ("G: F with the gate at 0.85", Last(21, 0.1, 0.1), true),
        ("H: G and better early for 24 reports and the early limit 0.2 higher", Last(24, -0.1, 0.1), true),
        ("I: H and first report 1/20", Last(24, -0.1, 0.05), true),
        ("K: H and the early limit 0.4 higher", Last(24, -0.3, 0.1), true),
    ];

    private static MonthlyTestOptions Last(int better, double lower, double first) => Joint with
    {
        FirstHazard = first,
        JumpRatio = 0.65,
        EarlyLeg = new() { BetterReports = better, Lower = lower },
        LowerAfterSignal = 0.9,
    };

    private static readonly ImmutableArray<string> Truths =
    [
        "85 > 70 % in month 1", "85 > 70 % in month 13", "85 > 75 % in month 1", "85 > 75 % in month 13", "5 > 10 % bad in month 13",
        "8 > 16 % bad in month 13", "20 > 10 % bad in month 13", "relapse 21 > 10 > 21 %", "relapse 21 > 10 > 25 %",
        "better in the 18 months at 10 %", "second step 10 > 17 > 26 %", "drift 15 > 30 % over 36",
        "false: step 15 > 30 % inside the history", "false: step 30 > 15 % inside the history",
        "false: second signal within 24 months of a true one",
    ];

    /// <summary>The rows, without those of a cell and test that a file has already.</summary>
    public static IEnumerable<MonthlyRow> Rows(int departments, ulong seed, IReadOnlyList<MonthlyRow> known, Action<string> progress)
    {
        var likelihood = new CountLikelihood();
        var odds = new ChangeOddsOptions();
        foreach (var (volume, history) in Cells)
            foreach (var (name, options, everywhere) in All)
            {
                if ((!everywhere && volume > 10) || known.Any(row => row.Volume == volume && row.Test == name
                    && row.History == history.ToString(CultureInfo.InvariantCulture)))
                    continue;
                Follower follower = options is null ? new OddsFollower(odds)
                    : new MonthlyFollower(new(options, likelihood, () => new ChangeGrid(options.ChangeOdds)));
                var shift = Shift(follower, volume, history, departments, seed);
                progress(string.Create(CultureInfo.InvariantCulture,
                    $"tries: {volume} cases a month, {history} months of history, {name}: constant {shift:F3}"));
                foreach (var truth in Truths.Select(each => Truth.All.Single(truth => truth.Name == each)))
                {
                    var from = Seeds.Of(seed, volume, history, Truth.All.IndexOf(truth) + 1_000);
                    var draws = new MonthlyDraws(volume, truth.Rates(history), 0, from);
                    var months = new EventCount[history + truth.Reports];
                    var (counted, of) = (0, 0);
                    for (var index = 0; index < departments; index++)
                    {
                        draws.Draw(index, months);
                        var (count, all) = StableAndChanged.Count(truth, follower.Signals(months, history, shift));
                        (counted, of) = (counted + count, of + all);
                    }
                    yield return new("tries", volume, history.ToString(CultureInfo.InvariantCulture), 0, name,
                        truth.Name, counted, of, from);
                }
            }
    }

    private static MonthlyTestOptions FittedOptions => Last(24, 0.05, 0.1) with
    {
        LimitCurve = new(Most: 3.12, Slope: 0.63, ShortHistory: 0.20, BetterLower: 0.45) { AtOne = 1.99 },
    };

    private static readonly ImmutableArray<string> Compared = [SignalTests.Filter, SignalTests.Odds, SignalTests.Joint, Fitted];

    /// <summary>The fitted one beside the three at the limits of their formulas, in every cell and on seeds that nothing was chosen
    /// by.</summary>
    public static IEnumerable<MonthlyRow> Fresh(int departments, ulong seed, Action<string> progress)
    {
        var tests = new SignalTests((SignalTests.Filter, MonthlyTestOptions.FilterAlone), (SignalTests.Odds, null),
            (SignalTests.Joint, Joint), (Fitted, FittedOptions));
        foreach (var (volume, history) in MonthlyStudy.Cells)
        {
            progress($"fresh: {volume} cases a month, {history} months of history");
            foreach (var correlation in MonthlyStudy.Correlations)
                foreach (var row in StableAndChanged.Stable(tests, volume, history, correlation, departments, seed))
                    yield return row with { Part = "fresh stable" };
            foreach (var truth in Truth.All.Where(truth => truth.Reports == Truth.Horizon))
                foreach (var row in StableAndChanged.Changed(tests, truth, volume, history, departments / 2, seed))
                    yield return row with { Part = "fresh changed" };
        }
    }

    public static void Table(StringBuilder text, IReadOnlyList<MonthlyRow> rows)
    {
        FreshTables(text, rows);
        MonthlyRow[] tries = [.. rows.Where(row => row.Part == "tries")];
        foreach (var cell in tries.GroupBy(row => (row.Volume, row.History)))
        {
            string[] tests = [.. All.Select(each => each.Name).Where(name => cell.Any(row => row.Test == name))];
            MonthlyTables.Head(text, string.Create(CultureInfo.InvariantCulture,
                $"Tried at one budget, {cell.Key.Volume} cases a month and {cell.Key.History} months of history, %"),
                ["what happened", .. tests]);
            foreach (var truth in cell.GroupBy(row => row.Figure))
                text.Append(CultureInfo.InvariantCulture, $"| {truth.Key} | {string.Join(" | ", tests.Select(test =>
                    truth.Single(row => row.Test == test) is { Of: > 0 } row
                        ? MonthlyTables.Rounded(100 * row.Share, row.Share < 0.1 ? 1 : 0) : "-"))} |\n");
            text.Append('\n');
        }
    }

    private static void FreshTables(StringBuilder text, IReadOnlyList<MonthlyRow> rows)
    {
        MonthlyRow[] stable = [.. rows.Where(row => row.Part == "fresh stable")],
            changed = [.. rows.Where(row => row.Part == "fresh changed")];
        if (stable.Length == 0)
            return;
        MonthlyTables.Head(text, $"Six stable measures on fresh seeds, %: {string.Join(" / ", Compared)}",
            ["cases a month / months of history", "ρ 0", "ρ .01", "ρ .02"]);
        foreach (var cell in stable.GroupBy(row => (row.Volume, row.History)))
            text.Append(CultureInfo.InvariantCulture, $"| {cell.Key.Volume} / {cell.Key.History} | {string.Join(" | ",
                MonthlyStudy.Correlations.Select(correlation => string.Join(" / ", Compared.Select(test => MonthlyTables.Rounded(
                    100 * StableAndChanged.Family([.. cell.Where(row => row.Correlation == correlation && row.Test == test)]).Share,
                    1)))))} |\n");
        (double Volume, string History)[] cells = [.. changed.Select(row => (row.Volume, row.History)).Distinct()];
        text.Append('\n');
        MonthlyTables.Head(text, $"Noticed, and false signals, on fresh seeds, %: {string.Join(" / ", Compared)}",
            ["what happened", .. cells.Select(cell => string.Create(CultureInfo.InvariantCulture, $"{cell.Volume}/{cell.History}"))]);
        foreach (var truth in changed.GroupBy(row => row.Figure))
            text.Append(CultureInfo.InvariantCulture, $"| {truth.Key} | {string.Join(" | ", cells.Select(cell => string.Join(" / ",
                Compared.Select(test => truth.Single(row => (row.Volume, row.History) == cell && row.Test == test) is { Of: > 0 } row
                    ? MonthlyTables.Rounded(100 * row.Share, row.Share < 0.1 ? 1 : 0) : "-"))))} |\n");
        text.Append('\n');
    }

    /// <summary>The constant on all limits that spends the budget at the worst of three correlations.</summary>
    private static double Shift(Follower follower, double volume, int history, int departments, ulong seed)
    {
        var worst = double.NegativeInfinity;
        foreach (var correlation in MonthlyStudy.Correlations)
        {
            var excess = FalseAlarms.Six.ToDictionary(six => six.Rate, six =>
            {
                var draws = new MonthlyDraws(volume, [.. Enumerable.Repeat(six.Rate, history + Truth.Horizon)], correlation,
                    Seeds.Of(seed, volume, history, correlation, six.Rate, 4_000));
                var months = new EventCount[history + Truth.Horizon];
                return (double[])[.. Enumerable.Range(0, departments).Select(index =>
                {
                    draws.Draw(index, months);
                    return follower.Most(months, history);
                })];
            });
            var (low, high) = (-2.0, 2.0);
            while (high - low > 1e-4)
            {
                var middle = (low + high) / 2;
                var share = FalseAlarms.Family(rate => excess[rate].Count(most => most >= middle) / (double)departments, departments).Share;
                (low, high) = share > Budget ? (middle, high) : (low, middle);
            }
            worst = Math.Max(worst, high);
        }
        return worst;
    }

    /// <summary>Follows departments by one test.</summary>
    private abstract class Follower
    {
        /// <summary>The largest excess over a limit before any signal.</summary>
        public abstract double Most(ReadOnlySpan<EventCount> months, int history);

        public abstract List<StudySignal> Signals(ReadOnlySpan<EventCount> months, int history, double shift);
    }

    private sealed class MonthlyFollower(MonthlyWalk walk) : Follower
    {
        public override double Most(ReadOnlySpan<EventCount> months, int history)
        {
            var most = double.NegativeInfinity;
            walk.Begin(months[..history]);
            foreach (var month in months[history..])
            {
                walk.Take(month);
                most = Math.Max(most, Math.Max(walk.Filter.LogOddsWorse - walk.Limits!.Worse,
                    walk.Filter.LogOddsBetter - walk.Limits.Better));
                most = Math.Max(most, walk.Early?.Excess ?? most);
            }
            return most;
        }

        public override List<StudySignal> Signals(ReadOnlySpan<EventCount> months, int history, double shift)
        {
            List<StudySignal> signals = [];
            walk.Begin(months[..history]);
            walk.Raise(shift);
            for (var month = history; month < months.Length; month++)
                if (walk.Take(months[month]) is var (worse, _))
                {
                    signals.Add(new(month - history, worse));
                    walk.Signal();
                }
            return signals;
        }
    }

    private sealed class OddsFollower(ChangeOddsOptions options) : Follower
    {
        private readonly ChangeWalk _walk = new(options);

        public override double Most(ReadOnlySpan<EventCount> months, int history)
        {
            var limit = Begin(months, history);
            var most = double.NegativeInfinity;
            foreach (var month in months[history..])
                most = Math.Max(most, LogOdds(month, out _) - limit);
            return most;
        }

        public override List<StudySignal> Signals(ReadOnlySpan<EventCount> months, int history, double shift)
        {
            var limit = Begin(months, history) + shift;
            for (var month = history; month < months.Length; month++)
                if (LogOdds(months[month], out var worse) >= limit)
                    return [new(month - history, worse)];
            return [];
        }

        private double LogOdds(EventCount month, out bool isWorse)
        {
            var (worse, better) = _walk.Report(month.Events, month.Cases);
            isWorse = worse > better;
            return Math.Log(worse + better);
        }

        private double Begin(ReadOnlySpan<EventCount> months, int history)
        {
            int[] events = new int[history], eligible = new int[history];
            for (var month = 0; month < history; month++)
                (events[month], eligible[month]) = (months[month].Events, months[month].Cases);
            _walk.Begin(events, eligible);
            return ChangeLimit.OfHistory(events.Sum(), Math.Max(1, eligible.Sum()), history, options);
        }
    }
}
