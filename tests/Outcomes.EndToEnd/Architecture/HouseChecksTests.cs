using Microsoft.CodeAnalysis;

namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>The checks of <see cref="HouseTests"/> on planted sources, so that it is seen that they can fail.</summary>
public sealed class HouseChecksTests
{
    private static readonly MetadataReference[] Framework = [MetadataReference.CreateFromFile(typeof(object).Assembly.Location)];

    [Theory]
    [InlineData("void Long()")]
    [InlineData("Sample()")]
    [InlineData("~Sample()")]
    [InlineData("public static Sample operator +(Sample a, Sample b)")]
    [InlineData("int Value { get")]
    [InlineData("int this[int i] { set")]
    public void A_method_of_61_lines_is_found_and_one_of_60_is_not(string head)
    {
        var close = head.Contains('{') ? "}}" : "}";
        Assert.Empty(Methods.TooLong(Planted($"class Sample {{\n[Some]\n{head}\n{{{Blank(58)}{close}\n}}"), 60));
        var found = Assert.Single(Methods.TooLong(Planted($"class Sample {{\n[Some]\n{head}\n{{{Blank(59)}{close}\n}}"), 60));
        Assert.Equal(("src/P/Folder/Sample.cs", 3), (found.File, found.Line));
        Assert.EndsWith("61 lines", found.What);
    }

    [Fact]
    public void A_long_local_function_is_found_with_the_method_around_it() =>
        Assert.Equal(["Outer has 64 lines", "Inner has 61 lines"],
            Methods.TooLong(Planted($"class C {{ void Outer()\n{{\nvoid Inner()\n{{{Blank(59)}}}\n}}\n}}"), 60).Select(one => one.What));

    [Theory]
    [InlineData("class C { int Long() =>")]
    [InlineData("class C { int Long =>")]
    [InlineData("class C { int Long { get =>")]
    public void An_expression_of_61_lines_is_found(string head)
    {
        var close = head.Contains("get", StringComparison.Ordinal) ? "1; }}" : "1; }";
        Assert.Empty(Methods.TooLong(Planted($"{head}{Blank(59)}{close}"), 60));
        Assert.Single(Methods.TooLong(Planted($"{head}{Blank(60)}{close}"), 60));
    }

    [Fact]
    public void Statements_outside_a_type_are_one_method() =>
        Assert.Equal("the program has 61 lines", Assert.Single(Methods.TooLong(Planted($"var a = 1;{Blank(60)}var b = 2;"), 60)).What);

    [Theory]
    [InlineData("class C {{ void M({0}) {{ }} }}")]
    [InlineData("class C {{ C({0}) {{ }} }}")]
    [InlineData("class C {{ void M() {{ void Local({0}) {{ }} }} }}")]
    [InlineData("class C {{ int this[{0}] => 1; }}")]
    [InlineData("class C({0});")]
    [InlineData("struct C({0});")]
    public void Eight_parameters_are_found_and_seven_are_not(string text)
    {
        Assert.Empty(Methods.TooManyParameters(Planted(With(text, 7)), 7));
        Assert.EndsWith("has 8 parameters", Assert.Single(Methods.TooManyParameters(Planted(With(text, 8)), 7)).What);
    }

    [Theory]
    [InlineData("record R({0});")]
    [InlineData("record struct R({0});")]
    public void A_record_may_hold_as_many_data_as_it_likes(string text) =>
        Assert.Empty(Methods.TooManyParameters(Planted(With(text, 8)), 7));

    [Fact]
    public void A_line_of_141_characters_is_found_and_one_of_140_is_not()
    {
        var found = Assert.Single(Lines.TooLong(Planted($"//{new string('x', 138)}\n//{new string('x', 139)}\n"), 140));
        Assert.Equal("src/P/Folder/Sample.cs:2: 141 characters", found.ToString());
    }

    [Theory]
    [InlineData("\"\"\"")]
    [InlineData("$\"\"\"")]
    public void A_line_within_a_raw_string_may_be_long_and_those_of_its_quotes_may_not(string quotes)
    {
        var wide = new string('x', 141);
        var text = $"class C {{\nstring A = /*{wide}*/ {quotes}\n{wide}\n\"\"\" /*{wide}*/;\n}}";
        Assert.Equal([2, 4], Lines.TooLong(Planted(text), 140).Select(one => one.Line));
    }

    [Fact]
    public void A_line_within_a_verbatim_string_may_not_be_long() =>
        Assert.Single(Lines.TooLong(Planted($"class C {{ string A = @\"\n{new string('x', 141)}\n\"; }}"), 140));

    [Theory]
    [InlineData("class Other;", 1)]
    [InlineData("namespace N { class Other { class Sample; } }", 1)]
    [InlineData("class Other; record Sample;", 0)]
    [InlineData("namespace N; enum Sample { A }", 0)]
    [InlineData("delegate void Sample();", 0)]
    [InlineData("partial class Sample<T>;", 0)]
    [InlineData("System.Console.WriteLine();", 0)]
    [InlineData("global using System;", 0)]
    public void A_file_without_a_type_of_its_name_is_found(string text, int expected) =>
        Assert.Equal(expected, Lines.Misnamed(Planted(text)).Count());

    [Fact]
    public void A_folder_with_one_file_too_many_is_found_and_what_lies_deeper_is_not_counted()
    {
        string[] files = ["src/P/a.cs", "src/P/b.cs", "src/P/c.sh", "src/P/d.json", "src/P/Q/e.cs", "src/P/Q/f.cs"];
        Assert.Equal(["src/P: 3 source files"], SourceTree.Crowded(files, 2).Select(one => one.ToString()));
        Assert.Empty(SourceTree.Crowded(files, 3));
    }

    [Fact]
    public void Two_folders_that_name_each_other_are_found_with_their_places()
    {
        var found = Cycles(
            ("src/P/A/First.cs", "namespace N.A; class First { N.B.Second s; }"),
            ("src/P/B/Second.cs", "using N.A;\nnamespace N.B;\nclass Second { First f; }"),
            ("src/P/Root.cs", "namespace N; class Root { A.First f; B.Second s; }"));
        Assert.Equal(
            [
                "src/P/A/First.cs:1: src/P, circle of A, B: A -> B at 1 places, to Second",
                "src/P/B/Second.cs:3: src/P, circle of A, B: B -> A at 1 places, to First",
            ], found);
    }

    [Fact]
    public void A_circle_through_three_folders_and_the_projects_own_is_found() =>
        Assert.Equal(3, Cycles(
            ("src/P/A/First.cs", "class First : Second { }"),
            ("src/P/B/Second.cs", "class Second { static int X = Third.X; }"),
            ("src/P/Third.cs", "class Third { public static int X; void M() { new First(); } }")).Count);

    [Fact]
    public void A_circle_closed_by_an_extension_methods_call_or_an_attribute_is_found() =>
        Assert.Equal(2, Cycles(
            ("src/P/A/First.cs", "static class First { public static int Twice(this int x) => x; } [Mark] class Marked { }"),
            ("src/P/B/Second.cs", "class MarkAttribute : System.Attribute { int M() => 1.Twice(); }")).Count);

    [Fact]
    public void Arrows_one_way_and_equal_names_make_no_circle() =>
        Assert.Empty(Cycles(
            ("src/P/A/Keys.cs", "namespace N.A; class Keys { B.Second s; }"),
            ("src/P/B/Second.cs", "namespace N.B; class Second { int Keys; string First; int M() => Keys; }")));

    [Fact]
    public void A_list_of_violations_is_sorted_and_counted_by_project() =>
        Assert.Equal("3 in all: src/A 2, src/B 1\nsrc/A/x.cs:2: a\nsrc/A/x.cs:10: b\nsrc/B: c",
            Violation.List([new("src/B", 0, "c"), new("src/A/x.cs", 10, "b"), new("src/A/x.cs", 2, "a")]));

    private static SourceFile Planted(string text) => SourceFile.Of("src/P/Folder/Sample.cs", text);

    private static List<string> Cycles(params (string Path, string Text)[] files) =>
        [.. FolderGraph.Cycles("src/P", FolderGraph.Imports([.. files.Select(file => SourceFile.Of(file.Path, file.Text))], Framework))
            .Select(one => one.ToString()).Order(StringComparer.Ordinal)];

    private static string Blank(int lines) => new('\n', lines);

    private static string With(string text, int parameters) =>
        string.Format(System.Globalization.CultureInfo.InvariantCulture, text,
            string.Join(", ", Enumerable.Range(0, parameters).Select(i => $"int p{i}")));
}
