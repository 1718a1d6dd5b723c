using Outcomes.Reporting.Tables;

namespace Outcomes.Tests.Reporting.Tables;

/// <summary>The documents say of the tables what their schemas say.</summary>
public sealed class TablesPageTests
{
    public static TheoryData<string> Paths => [.. TableSchemas.All.Select(table => table.Path)];

    [Theory]
    [MemberData(nameof(Paths))]
    public void Readme_lists_each_table_as_its_schema_describes_it(string path)
    {
        var row = TablesPage.ReadmeRow(TableSchemas.Of(path));
        Assert.True(Rows().Contains(row), $"README.md has no row\n{row}");
    }

    [Fact]
    public void Readme_lists_no_table_that_has_no_schema()
    {
        var known = TableSchemas.All.Select(TablesPage.ReadmeRow).ToHashSet();
        Assert.DoesNotContain(Rows(), row => row.Contains(".csv`", StringComparison.Ordinal) && !known.Contains(row));
    }

    [Fact]
    public void Readme_lists_tables_for_the_department_alone_below_the_line_that_says_so()
    {
        var rows = Rows();
        var line = rows.IndexOf("| for the department alone: | |");
        Assert.All(TableSchemas.All, table => Assert.Equal(table.DepartmentOnly, rows.IndexOf(TablesPage.ReadmeRow(table)) > line));
    }

    [Fact]
    public void The_page_of_tables_is_what_the_schemas_make()
    {
        var made = Path.Combine(AppContext.BaseDirectory, "tables.md");
        File.WriteAllText(made, TablesPage.Text());
        Assert.True(File.ReadAllText(InRoot("docs", "tables.md")) == TablesPage.Text(),
            $"docs/tables.md is not what the schemas make; copy {made} over it and read the difference");
    }

    private static List<string> Rows() => [.. File.ReadAllLines(InRoot("README.md")).Where(line => line.StartsWith('|'))];

    private static string InRoot(params string[] parts)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
            folder = folder.Parent!;
        return Path.Combine([folder.FullName, .. parts]);
    }
}
