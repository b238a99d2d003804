def titles(client, person, settings):
    client.force_login(person, backend=settings.AUTHENTICATION_BACKENDS[-1])
    page = client.get("/season/")
    return [place["title"] for place in page.context["places"] if not place["current"]]


def test_a_place_that_is_closed_to_somebody_is_not_offered(client, people, settings):
    assert "Household" not in titles(client, people["guest"], settings)
    assert "Household" in titles(client, people["keeper"], settings)


def test_a_page_within_a_place_marks_that_place(client, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])

    marked = {
        path: [place["title"] for place in client.get(path).context["places"] if place["current"]]
        for path in ("/", "/plants/", "/shopping/", "/places/", "/me/")
    }

    assert marked == {
        "/": ["Today"],
        "/plants/": ["Season"],
        "/shopping/": ["Store"],
        "/places/": ["Cellar"],
        "/me/": ["Household"],
    }


def test_a_page_of_nothing_still_leads_somewhere(client, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])

    page = client.get("/no/such/page/").content.decode()

    assert 'href="/batches/"' in page
