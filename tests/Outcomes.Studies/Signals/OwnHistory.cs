using MathNet.Numerics.Distributions;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>
/// A limit simulated for each department from its own history instead of the closed form: departments are drawn anew, history and
/// reports, with a rate from the posterior Beta(x + ½, n − x + ½), ρ .01 and Poisson cases; the limit is passed by the share that one
/// measure may spend.
/// </summary>
/// <remarks>It hangs on x and n only, so it is simulated at nodes and read between them.</remarks>
internal sealed class OwnHistory
{
    /// <summary>Departments drawn at each node.</summary>
    public const int Replicates = 8_000;

    private const int Rates = 400;

    private readonly double[] _bad, _eligible;
    private readonly double[,] _limits;

    public OwnHistory(double volume, int history, double rate, ulong seed, int replicates)
    {
        var cases = volume * history;
        var spread = Math.Sqrt(cases * rate * (1 - rate) * (1 + (0.02 * volume)));
        _bad = [.. Enumerable.Range(-4, 9).Select(step => Math.Max(0, Math.Round((cases * rate) + (step * 0.8 * spread)))).Distinct()];
        _eligible = [.. Enumerable.Range(-1, 3).Select(step => Math.Round(cases + (step * 2.5 * Math.Sqrt(cases))))];
        _limits = new double[_bad.Length, _eligible.Length];
        for (var i = 0; i < _bad.Length; i++)
            for (var j = 0; j < _eligible.Length; j++)
                _limits[i, j] = Node((int)_bad[i], (int)_eligible[j], history, Seeds.Of(seed, i, j), replicates);
    }

    /// <summary>The limit after a history of x bad in n, linear between nodes.</summary>
    public double Limit(int bad, int eligible)
    {
        var ((i, u), (j, v)) = (Between(_bad, bad), Between(_eligible, eligible));
        return ((1 - u) * (((1 - v) * _limits[i, j]) + (v * _limits[i, j + 1])))
            + (u * (((1 - v) * _limits[i + 1, j]) + (v * _limits[i + 1, j + 1])));
    }

    private static (int Node, double Part) Between(double[] nodes, double value)
    {
        var node = Math.Clamp(Array.FindLastIndex(nodes, at => at <= value), 0, nodes.Length - 2);
        return (node, Math.Clamp((value - nodes[node]) / (nodes[node + 1] - nodes[node]), 0, 1));
    }

    private static double Node(int bad, int eligible, int history, ulong seed, int replicates)
    {
        // The rates are the posterior's quantiles, each as often: the draw of the rate adds no noise.
        double[] rates = [.. Enumerable.Range(0, Rates).Select(i => Beta.InvCDF(bad + 0.5, eligible - bad + 0.5, (i + 0.5) / Rates))];
        var most = new double[replicates];
        Parallel.For(0, Rates, () => new ChangeWalk(new()), (i, _, walk) =>
        {
            var draws = new Departments(new((double)eligible / history, history, rates[i]), Condition.All[1], Seeds.Of(seed, i));
            int[] x = new int[draws.Months], n = new int[draws.Months];
            for (var index = i; index < replicates; index += Rates)
            {
                draws.Draw(index, x, n);
                walk.Begin(x.AsSpan(0, history), n.AsSpan(0, history));
                for (var month = history; month < draws.Months; month++)
                {
                    var (worse, better) = walk.Report(x[month], n[month]);
                    most[index] = Math.Max(most[index], worse + better);
                }
            }
            return walk;
        }, _ => { });
        Array.Sort(most);
        return Math.Log(most[(int)((1 - ChangeLimit.Fitted) * most.Length)]);
    }
}
