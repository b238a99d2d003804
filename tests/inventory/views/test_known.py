def test_the_note_under_a_list_names_the_rule(makers_client, sugar):
    page = makers_client.get("/store/").content.decode()

    assert "How known:" in page
    assert "The sum of everything received, used, counted and thrown out." in page


def test_a_list_of_nothing_has_no_note(makers_client, house):
    assert "How known:" not in makers_client.get("/lots/").content.decode()
