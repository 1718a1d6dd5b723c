using Outcomes.Cli.Drafting;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Reading;

namespace Outcomes.Tests.Cli;

/// <summary>The decimal sign is proposed where the cells decide it, and asked where they do not.</summary>
public sealed class DecimalFormTests
{
    [Theory]
    [InlineData("7,31 7,4 7", "90 91 92", true, false)]
    [InlineData("7.31 7.4 7", "90 91 92", false, false)]
    [InlineData("90 91 92", "1 2 3", false, false)]
    [InlineData("7,31 7,4 7", "1.5 2 3", false, true)]
    [InlineData("1,250 1,500 500", "1 2 3", false, true)]
    [InlineData("0,250 0,500 0,125", "1 2 3", true, false)]
    [InlineData("7,31 7,4 7", "08.30 14.05 23.59", true, false)]
    public void The_cells_decide_or_a_question_is_asked(string first, string second, bool comma, bool asked)
    {
        var cells = first.Split(' ').Zip(second.Split(' '));
        var form = DecimalForm.Of(new ExportSample(["a", "b"], ';',
            [.. cells.Select((pair, i) => new SampleRow(i + 2, [pair.First, pair.Second]))], 0, false));
        Assert.Equal((comma, asked), (form.Comma, form.Doubt is not null));
    }

    [Fact]
    public void A_profile_reads_numbers_by_the_decimal_sign_of_its_export()
    {
        var sample = new ExportSample(["pH"], ';', [new SampleRow(2, ["7,31"]), new SampleRow(3, ["#N/A"])], 0, false);
        Assert.Empty(ColumnProfile.Of(sample, "pH", 0).Numbers);
        var column = ColumnProfile.Of(sample with { DecimalComma = true }, "pH", 0);
        Assert.Equal(7.31, Assert.Single(column.Numbers).Value);
        Assert.Equal((1, 1), (column.Filled, column.Blank));
    }
}
