using System.Globalization;
using System.Text;
using CsCheck;
using CsvHelper;
using Outcomes.Records;
using Outcomes.Reporting.Tables;

namespace Outcomes.Tests.Reporting.Tables;

public class TableWriterTests
{
    [Fact]
    public void A_table_reads_back_with_another_readers_eyes() =>
        // Lone surrogates are not text and have no UTF-8.
        Gen.String.Where(text => !text.Any(char.IsSurrogate) && !text.Contains('\0', StringComparison.Ordinal)).Array[3].Array
            .Sample(rows =>
            {
                var bytes = Written(["a", "b", "c"], table =>
                {
                    foreach (var row in rows)
                        table.Text(row[0]).Text(row[1]).Text(row[2]).End();
                });
                var read = Read(bytes);
                return read.Count == rows.Length
                    && read.Zip(rows).All(pair => pair.First.Select(FormulaGuard.Off).SequenceEqual(pair.Second));
            });

    [Fact]
    public void Text_that_is_utf8_already_is_written_as_the_same_text() =>
        Gen.String.Where(text => !text.Any(char.IsSurrogate)).Sample(text =>
            Written(["a", "b"], table => table.Text(text).Text("x").End()).AsSpan()
                .SequenceEqual(Written(["a", "b"], table => table.Text(Encoding.UTF8.GetBytes(text)).Text("x").End())));

    [Fact]
    public void Rfc_4180_quotes_commas_quotes_and_line_breaks_only()
    {
        // RFC 4180, section 2, rules 5 to 7.
        var text = WrittenText(["a", "b"], table => table.Text("aaa").Text("b,\"b\"\nb").End());
        Assert.Equal("a,b\naaa,\"b,\"\"b\"\"\nb\"\n", text);
    }

    [Fact]
    public void A_long_text_with_quotes_in_it_crosses_the_buffer()
    {
        var text = string.Concat(Enumerable.Repeat("ä\",", 90_000));
        var read = Read(Written(["a"], table => table.Text(text).End()));
        Assert.Equal(text, read.Single().Single());
    }

    [Fact]
    public void A_row_of_one_empty_cell_is_not_a_blank_line() =>
        Assert.Equal("a\n\"\"\n", WrittenText(["a"], table => table.Text((string?)null).End()));

    [Theory]
    [InlineData(0.1 + 0.2, "0.3")]
    [InlineData(1.0 / 3, "0.333333333333")]
    [InlineData(-0.0, "0")]
    [InlineData(-2.5, "-2.5")]
    [InlineData(1e15, "1E+15")]
    public void Numbers_have_twelve_significant_digits_and_no_guard(double value, string written) =>
        Assert.Equal($"n\n{written}\n", WrittenText(["n"], table => table.Number(value).End()));

    [Fact]
    public void A_number_reads_back_to_twelve_digits() => Gen.Double[-1e9, 1e9].Sample(value =>
    {
        var read = double.Parse(Read(Written(["n"], table => table.Number(value).End())).Single().Single(), CultureInfo.InvariantCulture);
        return Math.Abs(read - value) <= 1e-11 * Math.Abs(value);
    });

    [Fact]
    public void Negative_integers_are_numbers_and_never_guarded() =>
        Assert.Equal("n\n-5\n", WrittenText(["n"], table => table.Integer(-5).End()));

    [Fact]
    public void No_value_is_an_empty_cell() =>
        Assert.Equal("a,b\n,\n", WrittenText(["a", "b"], table => table.Number(default(double?)).Text((string?)null).End()));

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void What_is_not_a_number_is_refused(double value) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Written(["n"], table => table.Number(value).End()));

    [Fact]
    public void A_row_has_as_many_cells_as_the_header()
    {
        Assert.Throws<InvalidOperationException>(() => Written(["a", "b"], table => table.Text("1").End()));
        Assert.Throws<InvalidOperationException>(() => Written(["a"], table => table.Text("1").Text("2")));
    }

    [Fact]
    public void A_file_that_could_not_be_finished_leaves_the_old_one_and_nothing_else()
    {
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            var path = Path.Combine(folder.FullName, "t.csv");
            TableWriter.ToFile(path, ["a"], table => table.Text("old").End());
            Assert.Throws<TimeoutException>(() => TableWriter.ToFile(path, ["a"], table =>
            {
                table.Text("new").End();
                throw new TimeoutException();
            }));
            Assert.Equal("a\nold\n", File.ReadAllText(path));
            Assert.Equal([path], Directory.GetFiles(folder.FullName));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static byte[] Written(string[] columns, Action<TableWriter> rows)
    {
        using var stream = new MemoryStream();
        using (var table = TableWriter.Create(stream, [.. columns]))
            rows(table);
        return stream.ToArray();
    }

    private static string WrittenText(string[] columns, Action<TableWriter> rows) => Encoding.UTF8.GetString(Written(columns, rows));

    private static List<string[]> Read(byte[] bytes)
    {
        using var reader = CsvReader.Create(new MemoryStream(bytes), new CsvReaderOptions { Separator = ',' });
        reader.ReadHeader();
        var rows = new List<string[]>();
        while (reader.Read())
            rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i) ?? "")]);
        return rows;
    }
}
