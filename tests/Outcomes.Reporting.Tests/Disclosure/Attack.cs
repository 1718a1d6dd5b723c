namespace Outcomes.Reporting.Tests.Disclosure;

/// <summary>
/// An attacker with pencil and patience: unknown whole numbers, sums of them known to lie between bounds, and bounds drawn tighter until nothing moves
/// (interval propagation; general mathematics). Every difference of two nested sums is a sum too. Independent of how the release was made.
/// </summary>
internal sealed class Attack
{
    private const double Slack = 1e-9;

    private readonly List<(int[] Variables, double Low, double High)> _sums = [];
    private readonly HashSet<string> _seen = [];
    private readonly List<double> _low = [];
    private readonly List<double> _high = [];

    public int Variable()
    {
        _low.Add(0);
        _high.Add(double.PositiveInfinity);
        return _low.Count - 1;
    }

    /// <summary>States that the variables sum to something from low to high.</summary>
    public void Know(IEnumerable<int> variables, double low, double high)
    {
        var sorted = variables.Order().ToArray();
        if (sorted.Length > 0 && _seen.Add($"{string.Join(',', sorted)}|{low}|{high}"))
            _sums.Add((sorted, low, high));
    }

    /// <summary>Adds the difference of every two sums of which one holds the other, once over.</summary>
    public void Subtract()
    {
        var given = _sums.ToArray();
        var sets = given.Select(sum => sum.Variables.ToHashSet()).ToArray();
        for (var i = 0; i < given.Length; i++)
            for (var j = 0; j < given.Length; j++)
                if (given[i].Variables.Length < given[j].Variables.Length && sets[j].Contains(given[i].Variables[0]) && sets[i].IsSubsetOf(sets[j]))
                    Know(sets[j].Except(sets[i]), given[j].Low - given[i].High, given[j].High - given[i].Low);
    }

    public void Solve()
    {
        for (var moved = true; moved;)
        {
            moved = false;
            foreach (var (variables, low, high) in _sums)
            {
                var lowest = variables.Sum(v => _low[v]);
                var open = variables.Count(v => double.IsPositiveInfinity(_high[v]));
                var highest = variables.Where(v => double.IsFinite(_high[v])).Sum(v => _high[v]);
                foreach (var v in variables)
                {
                    var most = high - (lowest - _low[v]);
                    if (most < _high[v] - Slack) (_high[v], moved) = (most, true);
                    var others = open - (double.IsPositiveInfinity(_high[v]) ? 1 : 0);
                    if (others > 0 || open > 0) continue;
                    var least = low - (highest - _high[v]);
                    if (least > _low[v] + Slack && least > 0) (_low[v], moved) = (least, true);
                    highest = variables.Sum(each => _high[each]);
                    lowest = variables.Sum(each => _low[each]);
                }
            }
        }
    }

    /// <summary>The bounds of a sum of variables: from its parts, or from any known sum of the same variables.</summary>
    public (double Low, double High) Bounds(IEnumerable<int> variables)
    {
        var sorted = variables.Order().ToArray();
        var (low, high) = (sorted.Sum(v => _low[v]), sorted.Sum(v => _high[v]));
        foreach (var (known, from, to) in _sums)
        {
            var set = known.ToHashSet();
            if (sorted.All(set.Contains))
                high = Math.Min(high, to - known.Except(sorted).Sum(v => _low[v]));
            if (known.All(sorted.Contains))
                low = Math.Max(low, from);
            if (sorted.All(set.Contains))
                low = Math.Max(low, from - known.Except(sorted).Sum(v => _high[v]));
        }

        return (low, high);
    }
}
