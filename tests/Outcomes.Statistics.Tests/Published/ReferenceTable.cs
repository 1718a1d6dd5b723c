using System.Globalization;

namespace Outcomes.Tests;

/// <summary>A table of tests/fixtures/reference, made by general-purpose libraries with tests/reference/make.py and make.R.</summary>
internal sealed class ReferenceTable(string[] header, string[][] rows)
{
    public static string Folder => Path.Combine(AppContext.BaseDirectory, "fixtures", "reference");

    public IReadOnlyList<string[]> Rows => rows;

    public static ReferenceTable Read(string name) => ReadFile(Path.Combine(Folder, name + ".csv"));

    public static ReferenceTable ReadFile(string file)
    {
        // No cell of these tables holds a comma or a quote.
        var lines = File.ReadAllLines(file);
        return new(lines[0].Split(','), [.. lines.Skip(1).Select(line => line.Split(','))]);
    }

    /// <summary>Runs a statistic on every row and compares each named column, empty cells aside.</summary>
    /// <param name="compute">Gives, for a row, the actual values under the columns' names.</param>
    /// <param name="relative">Relative tolerance.</param>
    /// <param name="absolute">Absolute tolerance, for values near 0 that are differences of larger ones.</param>
    /// <returns>How many cells were compared.</returns>
    public int Compare(Func<Row, IEnumerable<(string Column, double Actual)>> compute, double relative = 1e-9, double absolute = 1e-12)
    {
        var compared = 0;
        Assert.Equal(1_000, rows.Length);
        foreach (var cells in rows)
        {
            var row = new Row(header, cells);
            foreach (var (column, actual) in compute(row))
            {
                var text = row.Text(column);
                if (text.Length == 0)
                    continue;
                var expected = Number(text);
                compared++;
                if (!(actual == expected || Math.Abs(actual - expected) <= Math.Max(relative * Math.Abs(expected), absolute)))
                    Assert.Fail($"{column} is {actual:R}, the library gives {expected:R}, in {string.Join(',', cells)}");
            }
        }
        return compared;
    }

    public static double Number(string text) => text switch
    {
        "inf" or "Inf" => double.PositiveInfinity,
        _ => double.Parse(text, CultureInfo.InvariantCulture),
    };

    public readonly record struct Row(string[] Header, string[] Cells)
    {
        public string Text(string column) => Cells[Array.IndexOf(Header, column)];

        public double Number(string column) => ReferenceTable.Number(Text(column));

        public long Integer(string column) => long.Parse(Text(column), CultureInfo.InvariantCulture);

        public double Level => Number("level");

        /// <summary>Numbers parted by spaces.</summary>
        public double[] Numbers(string column) => [.. Text(column).Split(' ').Select(ReferenceTable.Number)];

        public long[] Integers(string column) => [.. Text(column).Split(' ').Select(long.Parse)];

        /// <summary>Lines parted by semicolons, numbers in them by spaces.</summary>
        public long[][] Grid(string column) => [.. Text(column).Split(';').Select(line => line.Split(' ').Select(long.Parse).ToArray())];
    }
}
