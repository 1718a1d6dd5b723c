using System.Globalization;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

internal static class SmallUnits
{
    public static void Search(ulong seed)
    {
        foreach (var (volume, history) in ((double, int)[])[(5, 12), (5, 24), (10, 12), (10, 24), (25, 12)])
        {
            const int departments = 10_000;
            double[] rates = [0.05, 0.08, 0.15, 0.20, 0.30];
            var stable = new Dictionary<(double, double), Traces>();
            foreach (var rate in rates)
                foreach (var condition in (Condition[])[Condition.Plain, Condition.All[2]])
                    stable[(rate, condition.Correlation)] = Traces.Of(new(volume, history, rate), condition, departments, Seeds.Of(seed, volume, history, 900, rate, condition.Correlation), new());
            (double Rate, double To, int From)[] changes = [(0.15, 0.30, 0), (0.15, 0.30, 12), (0.15, 0.25, 12), (0.08, 0.16, 12), (0.20, 0.10, 12)];
            Traces[] changed = [.. changes.Select(c => Traces.Of(new(volume, history, c.Rate, c.To, c.From), Condition.Plain, departments, Seeds.Of(seed, volume, history, 901, c.To, c.From), new()))];
            int histories = volume == 5 ? 1_500 : 300, futures = 200;
            var shared = FalseAlarms.Six.ToDictionary(six => six.Rate, six => Traces.OfSharedHistories(new(volume, history, six.Rate), histories, futures, Seeds.Of(seed, volume, history, 902, six.Rate), new()));
            foreach (var pace in (Pace[])[Pace.Default, Pace.Strict])
                foreach (var (c, k, m, extra) in Candidates(pace))
                {
                    var options = new ChangeOddsOptions { Pace = pace };
                    double Limit(Traces t, int i)
                    {
                        double x = t.Bad[i], n = t.Eligible[i];
                        if (n < 40)
                            return double.PositiveInfinity;
                        var p = (x + 0.5 + (k * m)) / (n + 1 + k);
                        var upper = Math.Min(0.5, p + (c * Math.Sqrt(p * (1 - p) / (n + 1 + k))));
                        return ChangeLimit.AtRate(n / history, upper, history, options) + (extra * 20 / (n + 20));
                    }
                    var fa = rates.Select(rate => (A: FalseAlarms.Share(stable[(rate, 0)], i => Limit(stable[(rate, 0)], i)), B: FalseAlarms.Share(stable[(rate, 0.02)], i => Limit(stable[(rate, 0.02)], i)))).ToArray();
                    double Family(Func<int, double> of) => FalseAlarms.Family(rate => of(Array.IndexOf(rates, rate)), departments).Share;
                    var noticed = changes.Select((ch, i) => Detection.Within(Detection.Delays(changed[i], index => Limit(changed[i], index), ch.From), 12)).ToArray();
                    var chances = shared.ToDictionary(pair => pair.Key, pair => Enumerable.Range(0, histories).Select(h =>
                        Enumerable.Range(h * futures, futures).Count(i => pair.Value.Most(i) >= Limit(pair.Value, i)) / (double)futures).ToArray());
                    var uniform = SplitMix64.Uniform(5);
                    var families = Enumerable.Range(0, 5000).Select(_ => 1 - FalseAlarms.Six.SelectMany(six => Enumerable.Repeat(six.Rate, six.Measures))
                        .Aggregate(1.0, (quiet, rate) => quiet * (1 - chances[rate][(int)(uniform() * histories)]))).ToArray();
                    Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                        $"{volume}/{history} {pace,-7} c {c:0.00} k {k,3} m {m:0.00} e {extra:0.00} | family {100 * Family(i => fa[i].A):0.0} {100 * Family(i => fa[i].B):0.0} | each {string.Join(' ', fa.Select(f => $"{100 * f.A:0.0}/{100 * f.B:0.0}"))} | noticed {string.Join(' ', noticed.Select(n => $"{100 * n:0}"))} | <=10 {100 * families.Count(f => f <= 0.1) / 5000.0:0.0}"));
                }
        }
    }

    private static IEnumerable<(double C, double K, double M, double Extra)> Candidates(Pace pace)
    {
        yield return (1.25, 0, 0, 0);
        foreach (var k in (double[])[10, 20, 30])
            foreach (var m in (double[])[0.08, 0.10, 0.12])
                foreach (var c in (double[])[1, 1.25])
                    foreach (var extra in pace == Pace.Strict ? (double[])[0] : [0, -0.4, -0.7])
                        yield return (c, k, m, extra);
    }
}
