namespace Outcomes.Reporting.Tests.Disclosure;

/// <summary>
/// An attacker with pencil and patience: unknown whole numbers, sums of them known to lie between bounds, and bounds drawn tighter until
/// nothing moves (interval propagation; general mathematics). Every difference of two nested sums is a sum too. Independent of how the
/// release was made.
/// </summary>
internal sealed class Attack
{
    private const double Slack = 1e-9;

    private readonly List<Sum> _sums = [];
    private readonly HashSet<(UInt128, int, double, double)> _seen = [];
    private readonly List<double> _low = [];
    private readonly List<double> _high = [];

    private sealed record Sum(int[] Variables, ulong[] Mask, double Low, double High);

    public int Variable()
    {
        _low.Add(0);
        _high.Add(double.PositiveInfinity);
        return _low.Count - 1;
    }

    /// <summary>States that the variables sum to something from low to high; all variables must have been made before.</summary>
    public void Know(IEnumerable<int> variables, double low, double high)
    {
        int[] sorted = [.. variables.Order()];
        var hash = (UInt128)14_695_981_039_346_656_037;
        foreach (var v in sorted)
            hash = unchecked((hash ^ (UInt128)(v + 1)) * new UInt128(0x1000000, 0x13B));
        if (sorted.Length > 0 && _seen.Add((hash, sorted.Length, low, high)))
            _sums.Add(new Sum(sorted, Mask(sorted), low, high));
    }

    /// <summary>Adds the difference of every two sums of which one holds the other, once over.</summary>
    public void Subtract()
    {
        var given = _sums.ToArray();
        foreach (var part in given)
            foreach (var whole in given)
                if (part.Variables.Length < whole.Variables.Length && Within(part.Mask, whole.Mask))
                    Know(whole.Variables.Where(v => !Holds(part.Mask, v)), whole.Low - part.High, whole.High - part.Low);
    }

    public void Solve()
    {
        for (var moved = true; moved;)
        {
            moved = false;
            foreach (var sum in _sums)
            {
                var lowest = sum.Variables.Sum(v => _low[v]);
                var open = sum.Variables.Count(v => double.IsPositiveInfinity(_high[v]));
                var highest = sum.Variables.Where(v => double.IsFinite(_high[v])).Sum(v => _high[v]);
                foreach (var v in sum.Variables)
                {
                    var unbounded = double.IsPositiveInfinity(_high[v]);
                    var most = sum.High - (lowest - _low[v]);
                    if (most < _high[v] - Slack)
                    {
                        highest += most - (unbounded ? 0 : _high[v]);
                        open -= unbounded ? 1 : 0;
                        (_high[v], moved) = (most, true);
                    }

                    if (open > (double.IsPositiveInfinity(_high[v]) ? 1 : 0)) continue;
                    var least = sum.Low - (double.IsPositiveInfinity(_high[v]) ? highest : highest - _high[v]);
                    if (least <= _low[v] + Slack) continue;
                    lowest += least - _low[v];
                    (_low[v], moved) = (least, true);
                }
            }
        }
    }

    /// <summary>The bounds of a sum of variables: from its parts, and from every known sum that holds it or is held by it.</summary>
    public (double Low, double High) Bounds(IEnumerable<int> variables)
    {
        int[] wanted = [.. variables];
        var mask = Mask(wanted);
        var (low, high) = (wanted.Sum(v => _low[v]), wanted.Sum(v => _high[v]));
        foreach (var sum in _sums)
            if (Within(mask, sum.Mask))
            {
                var rest = sum.Variables.Where(v => !Holds(mask, v));
                high = Math.Min(high, sum.High - rest.Sum(v => _low[v]));
                low = Math.Max(low, sum.Low - rest.Sum(v => _high[v]));
            }
            else if (Within(sum.Mask, mask))
            {
                low = Math.Max(low, sum.Low);
            }

        return (low, high);
    }

    private ulong[] Mask(int[] variables)
    {
        var mask = new ulong[(_low.Count / 64) + 1];
        foreach (var v in variables)
            mask[v / 64] |= 1UL << (v % 64);
        return mask;
    }

    private static bool Holds(ulong[] mask, int v) => (mask[v / 64] >> (v % 64) & 1) == 1;

    private static bool Within(ulong[] part, ulong[] whole)
    {
        for (var i = 0; i < part.Length; i++)
            if ((part[i] & ~whole[i]) != 0)
                return false;
        return true;
    }
}
