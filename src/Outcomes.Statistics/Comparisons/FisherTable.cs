using MathNet.Numerics;

namespace Outcomes.Statistics;

/// <summary>The exact test of a table of any number of rows and columns.</summary>
/// <param name="PValue">The chance of all tables with these margins that are no more likely than the one seen.</param>
/// <param name="MidP">The same, less half of the probability of the table seen.</param>
/// <param name="Seen">The probability of the table seen.</param>
public sealed record FisherTableResult(double PValue, double MidP, double Seen);

/// <summary>
/// Fisher's exact test for r rows and c columns (Freeman and Halton): do the groups differ in how their records fall into categories?
/// </summary>
/// <remarks>
/// Given the margins, and rows independent of columns, a table x has the probability Π rᵢ! Π cⱼ! / (N! Π xᵢⱼ!). Columns are parted in two
/// halves: what the first half leaves of each row decides what the second can be, so that tables are counted in pairs of half tables and
/// not one by one. Source: <see cref="Source"/>.
/// </remarks>
public static class FisherTable
{
    public const string Source = "Freeman GH, Halton JH. Biometrika 1951;38:141-149 (citation from memory)";

    /// <summary>Half tables that are looked at before a table is refused, a first half counting as ten: a few seconds.</summary>
    public const int MostHalves = 20_000_000;

    /// <summary>The test. Rows and columns without records are left out.</summary>
    /// <param name="table">Rows of equal length, no cell below 0.</param>
    /// <returns>Probabilities from 0 to 1; null when fewer than two rows or two columns hold records.</returns>
    /// <remarks>
    /// Two tables whose probabilities are within 1e-7 of each other count as equally likely, which rounding needs. Assumes independent
    /// records; order of rows and columns says nothing. With two rows and two columns it is <see cref="FisherExact"/>'s two-sided p.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Rows differ in length, a cell is below 0, or the table is too large
    /// (<see cref="MostHalves"/>).</exception>
    public static FisherTableResult? Test(IReadOnlyList<IReadOnlyList<long>> table)
    {
        if (table.Count == 0 || table.Any(row => row.Count != table[0].Count || row.Any(cell => cell < 0)))
            throw new ArgumentOutOfRangeException(nameof(table), table.Count, "a table has rows of equal length and no cell below 0");
        long[][] rows = [.. table.Where(row => row.Sum() > 0).Select(row => row.ToArray())];
        int[] used = [.. Enumerable.Range(0, table[0].Count).Where(column => rows.Sum(row => row[column]) > 0)];
        if (rows.Length < 2 || used.Length < 2)
            return null;
        long[] across = [.. rows.Select(row => row.Sum())], down = [.. used.Select(column => rows.Sum(row => row[column]))];
        // Fewer rows than columns: fewer ways in which the first half can leave them. Small columns first.
        var (sides, columns) = across.Length <= down.Length ? (across, down) : (down, across);
        Array.Sort(columns);
        return new Halves(sides, columns).Test(rows.SelectMany(row => used.Select(column => row[column])));
    }

    private static ArgumentOutOfRangeException TooLarge() => new(
        "table", $"has more than {MostHalves} half tables with its margins: too many to count; join categories, "
            + $"or use a chi-square test where cells are large");

    /// <summary>All ways to fill the columns, first half and second half apart. Sums are of −ln x! over the cells x.</summary>
    private sealed class Halves(long[] rows, long[] columns)
    {
        private readonly double[] _logFactorials =
            LogFactorials(columns.Max() is var most && most <= MostHalves ? (int)most : throw TooLarge());

        private int _looked;

        private static double[] LogFactorials(int most)
        {
            var logs = new double[most + 1];
            for (var i = 2; i <= most; i++)
                logs[i] = SpecialFunctions.GammaLn(i + 1.0);
            return logs;
        }

        public FisherTableResult Test(IEnumerable<long> cells)
        {
            // ln of Π rᵢ! Π cⱼ! / N!, which all tables share.
            var shared = rows.Concat(columns).Sum(sum => SpecialFunctions.GammaLn(sum + 1.0)) - SpecialFunctions.GammaLn(rows.Sum() + 1.0);
            var seen = -cells.Sum(cell => _logFactorials[cell]);
            var half = columns.Length / 2;
            // What is left of the rows, with the sums of all first halves that leave it.
            Dictionary<string, (long[] Left, List<double> Sums)> firsts = [];
            Fill([.. rows], 0, half, 0, (left, sum) =>
            {
                var key = string.Join(' ', left);
                if (!firsts.TryGetValue(key, out var same))
                    firsts.Add(key, same = ([.. left], []));
                same.Sums.Add(sum);
            });
            var (part, all) = (0.0, 0.0);
            List<double> seconds = [];
            foreach (var (left, sums) in firsts.Values)
            {
                seconds.Clear();
                Fill(left, half, columns.Length, 0, (_, sum) => seconds.Add(sum));
                seconds.Sort();
                var atMost = new double[seconds.Count + 1];
                for (var i = 0; i < seconds.Count; i++)
                    atMost[i + 1] = atMost[i] + Math.Exp(seconds[i] - seconds[^1]);
                foreach (var sum in sums)
                {
                    var likeliest = Math.Exp(shared + sum + seconds[^1]);
                    part += likeliest * atMost[NoMoreThan(seconds, seen + Math.Log(BinomialTest.Slack) - sum)];
                    all += likeliest * atMost[^1];
                }
            }
            // They sum to 1 but for rounding, which the division takes out.
            var chance = Math.Exp(shared + seen) / all;
            var p = Math.Min(1, part / all);
            return new(p, p - (chance / 2), chance);
        }

        private static int NoMoreThan(List<double> sorted, double most)
        {
            var (from, to) = (0, sorted.Count);
            while (from < to)
            {
                var middle = (from + to) / 2;
                (from, to) = sorted[middle] <= most ? (middle + 1, to) : (from, middle);
            }
            return from;
        }

        /// <summary>
        /// Calls back with what is left of the rows and with the sum, for every way to fill the columns up to <paramref name="to"/>.
        /// </summary>
        private void Fill(long[] left, int column, int to, double sum, Action<long[], double> filled)
        {
            if (column == to)
            {
                filled(left, sum);
                return;
            }
            // The last column takes what is left of every row.
            if (column == columns.Length - 1)
            {
                Look(1);
                foreach (var cell in left)
                    sum -= _logFactorials[cell];
                filled(left, sum);
                return;
            }
            var behind = new long[rows.Length + 1];
            for (var row = rows.Length - 1; row >= 0; row--)
                behind[row] = behind[row + 1] + left[row];
            Cell(0, columns[column], sum);

            void Cell(int row, long rest, double so)
            {
                if (row == rows.Length)
                {
                    Look(to < columns.Length ? 10 : 1);
                    Fill(left, column + 1, to, so, filled);
                    return;
                }
                // Rows further down can take no more than they have.
                var most = Math.Min(rest, left[row]);
                for (var cell = Math.Max(0, rest - behind[row + 1]); cell <= most; cell++)
                {
                    left[row] -= cell;
                    Cell(row + 1, rest - cell, so - _logFactorials[cell]);
                    left[row] += cell;
                }
            }
        }

        /// <summary>A first half is kept, which costs more.</summary>
        private void Look(int cost)
        {
            _looked += cost;
            if (_looked > MostHalves)
                throw TooLarge();
        }
    }
}
