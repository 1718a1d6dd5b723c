using System.Text.Json;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class FisherTableTests
{
    public static TheoryData<string> Printed => Check.Ids("exact.json", "fisher_exact_table");

    [Theory]
    [MemberData(nameof(Printed))]
    public void The_exact_test_of_a_table_equals_published_values(string id)
    {
        var check = Check.Find("exact.json", id);
        check.Holds(("p", FisherTable.Test(check.Inputs["table"].Deserialize<long[][]>()!)!.PValue));
    }

    [Fact]
    public void The_exact_test_of_a_table_equals_all_tables_counted_in_whole_numbers() =>
        Assert.Equal(3_000, ReferenceTable.Read("exact_table").Compare(row =>
        {
            var test = FisherTable.Test(row.Grid("table"))!;
            return [("p", test.PValue), ("mid_p", test.MidP), ("chance", test.Seen)];
        }, absolute: 0));

    [Fact]
    public void The_exact_test_of_a_table_equals_that_of_R() =>
        // Tables with one row or column have no test.
        Assert.InRange(ReferenceTable.Read("r_exact_table").Compare(row =>
            row.Text("p").Length == 0 ? [] : [("p", FisherTable.Test(row.Grid("table"))!.PValue)], absolute: 0), 900, 1_000);

    [Fact]
    public void Order_of_rows_and_columns_and_empty_ones_say_nothing()
    {
        foreach (var row in ReferenceTable.Read("exact_table").Rows.Take(200))
        {
            long[][] table = [.. row[0].Split(';').Select(line => line.Split(' ').Select(long.Parse).ToArray())];
            var p = FisherTable.Test(table)!.PValue;
            long[][] turned = [.. Enumerable.Range(0, table[0].Length).Select(column => table.Select(line => line[column]).ToArray())];
            long[][] padded = [[.. new long[table[0].Length + 1]], .. table.Reverse().Select(line => (long[])[0, .. line.Reverse()])];
            Assert.Equal(p, FisherTable.Test(turned)!.PValue, 1e-12);
            Assert.Equal(p, FisherTable.Test(padded)!.PValue, 1e-12);
        }
    }

    [Theory]
    [InlineData(3, 9, 7, 8)]
    [InlineData(0, 16, 15, 72)]
    [InlineData(400, 900, 350, 1000)]
    [InlineData(50, 50_000, 90, 50_000)]
    public void With_two_rows_and_columns_it_is_the_test_of_two_proportions(int a, int n1, int c, int n2)
    {
        var test = FisherTable.Test([[a, n1 - a], [c, n2 - c]])!;
        var two = FisherExact.Test(new(a, n1, 0), new(c, n2, 0))!;
        Assert.Equal(1, test.PValue / two.TwoSided, 1e-9);
        Assert.Equal(1, test.MidP / two.TwoSidedMidP, 1e-9);
    }

    [Fact]
    public void The_likeliest_table_has_p_one() => Assert.Equal(1, FisherTable.Test([[2, 2, 2], [2, 2, 2], [2, 2, 2]])!.PValue, 1e-12);

    [Fact]
    public void A_table_with_one_row_or_one_column_of_records_has_no_test()
    {
        Assert.Null(FisherTable.Test([[1, 2, 3], [0, 0, 0]]));
        Assert.Null(FisherTable.Test([[1, 0], [2, 0], [5, 0]]));
        Assert.Null(FisherTable.Test([[0, 0], [0, 0]]));
    }

    [Fact]
    public void A_table_that_would_take_too_long_is_refused_with_what_to_do()
    {
        var error = Assert.Throws<ArgumentOutOfRangeException>(() => FisherTable.Test([[100, 200, 100, 90], [300, 3, 6, 1],
            [10, 10, 14, 9], [6, 7, 12, 11]]));
        Assert.Contains("join categories", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Rows_of_unequal_length_and_counts_below_0_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => FisherTable.Test([[1, 2], [3]]));
        Assert.Throws<ArgumentOutOfRangeException>(() => FisherTable.Test([[1, 2], [3, -1]]));
        Assert.Throws<ArgumentOutOfRangeException>(() => FisherTable.Test([]));
    }
}
